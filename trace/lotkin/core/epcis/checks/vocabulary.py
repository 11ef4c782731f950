"""The words of EPCIS 2.0 and of the Core Business Vocabulary 2.0.

Source: ISO/IEC 19987:2024 and 19988:2024, as listed in the ontology that GS1 publishes (gs1/EPCIS);
an open standard under the GS1 IP policy. In JSON a word stands bare or as its web address.
"""

from __future__ import annotations

__all__ = [
    "ACTIONS",
    "BIZ_STEPS",
    "CONTEXT",
    "DISPOSITIONS",
    "ERROR_REASONS",
    "EXCEPTIONS",
    "MEASUREMENTS",
    "PARTY_TYPES",
    "TRANSACTION_TYPES",
    "in_full",
]

CONTEXT = "https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld"
"""What the `@context` of every document names."""

ACTIONS = frozenset({"ADD", "OBSERVE", "DELETE"})

BIZ_STEPS = frozenset(
    """
    accepting arriving assembling collecting commissioning consigning creating_class_instance
    cycle_counting decommissioning departing destroying disassembling dispensing encoding
    entering_exiting holding inspecting installing killing loading other packing picking
    receiving removing repackaging repairing replacing reserving retail_selling sampling
    sensor_reporting shipping staging_outbound stock_taking stocking storing transporting
    unloading unpacking void_shipping
    """.split()
)
"""Business steps."""

DISPOSITIONS = frozenset(
    """
    active available completeness_inferred completeness_verified conformant container_closed
    container_open damaged destroyed dispensed disposed encoded expired in_progress in_transit
    inactive mismatch_class mismatch_instance mismatch_quantity needs_replacement
    no_pedigree_match non_conformant non_sellable_other partially_dispensed recalled reserved
    retail_sold returned sellable_accessible sellable_not_accessible stolen unavailable
    unknown
    """.split()
)
"""Dispositions: the state of what an event is about."""

TRANSACTION_TYPES = frozenset(
    """
    bol cert desadv inv pedigree po poc prodorder recadv rma testprd testres upevt
    """.split()
)
"""Types of business transactions."""

PARTY_TYPES = frozenset(
    """
    location owning_party possessing_party
    """.split()
)
"""Types of sources and destinations."""

ERROR_REASONS = frozenset(
    """
    did_not_occur incorrect_data
    """.split()
)
"""Why an event is declared to be in error."""

MEASUREMENTS = frozenset(
    """
    AbsoluteHumidity AbsorbedDose AbsorbedDoseRate Acceleration Altitude AmountOfSubstance
    AmountOfSubstancePerUnitVolume Angle AngularAcceleration AngularMomentum AngularVelocity
    Area Capacitance Conductance Conductivity Count Density Dimensionless DoseEquivalent
    DoseEquivalentRate DynamicViscosity ElectricCharge ElectricCurrent ElectricCurrentDensity
    ElectricFieldStrength Energy Exposure Force Frequency Illuminance Inductance Irradiance
    KinematicViscosity Length LinearMomentum Luminance LuminousFlux LuminousIntensity
    MagneticFlux MagneticFluxDensity MagneticVectorPotential Mass MassConcentration
    MassFlowRate MassPerAreaTime MemoryCapacity MolalityOfSolute MolarEnergy MolarMass
    MolarVolume Power Pressure RadiantFlux RadiantIntensity Radioactivity RelativeHumidity
    Resistance Resistivity SolidAngle SpecificVolume Speed SurfaceDensity SurfaceTension
    Temperature Time Torque Voltage Volume VolumeFlowRate VolumeFraction VolumetricFlux
    Wavenumber
    """.split()
)
"""What a sensor can report."""

EXCEPTIONS = frozenset({"ALARM_CONDITION", "ERROR_CONDITION"})
"""What a sensor can report instead of a value."""

ADDRESSES = {
    "bizStep": ("https://ref.gs1.org/cbv/BizStep-", BIZ_STEPS),
    "disposition": ("https://ref.gs1.org/cbv/Disp-", DISPOSITIONS),
    "bizTransaction": ("https://ref.gs1.org/cbv/BTT-", TRANSACTION_TYPES),
    "party": ("https://ref.gs1.org/cbv/SDT-", PARTY_TYPES),
    "reason": ("https://ref.gs1.org/cbv/ER-", ERROR_REASONS),
    "measurement": ("https://gs1.org/voc/", MEASUREMENTS),
    "exception": ("https://gs1.org/voc/", EXCEPTIONS),
}


def in_full(kind: str, word: str) -> str:
    """Give the web address of a bare word; anything else as it is.

    Args:
        kind: `bizStep`, `disposition`, `bizTransaction`, `party`, `reason`, `measurement` or
            `exception`.
        word: As it stands in a document.

    Example:
        >>> in_full("bizStep", "shipping")
        'https://ref.gs1.org/cbv/BizStep-shipping'
    """
    address, words = ADDRESSES[kind]
    return address + word if word in words else word
