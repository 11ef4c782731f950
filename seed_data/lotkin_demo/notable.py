"""The codes worth knowing in the demo works: where each of its stories can be found."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["DemoWorks"]


@dataclass(frozen=True, slots=True)
class DemoWorks:
    """Codes by which tests and documents name what happened in the demo works.

    Serials stay the same when a unit is repaired; `SERIAL/2` is its next state.

    Attributes:
        events: Events recorded.
        units: Serials of all pumps in the order in which they were built.
        sources_in_two_deliveries: Lots that are the rest of the heat or supplier's lot of the
            delivery of the same part before.
        held_on_arrival: Lots received on hold and accepted days later.
        lot_with_a_late_heat: Bar lot whose heat was added by an amendment.
        voided_receipt: Code of a delivery that was scanned twice; voided.
        lot_from_two_heats: Turned lot cut from two lots of bar with different heats.
        lot_of_an_uncertain_insert: Turned lot in whose run the insert was changed unnoticed.
        powder_at_the_start: The lot of virgin powder that the powder chain begins with.
        last_cover_lot: The last lot of covers, at the other end of the chain.
        lot_dried_too_long: Lot whose drying broke the rule of the plan; reported.
        noisy_cam_lot: Cause of the cluster of noisy pumps.
        short_batch, over_count_batch, batch_in_two_parts: Outside batches as they came back.
        mixed_return_lot: Trays that came back tipped together.
        mixture_of_the_identified: Mixed return some of which was told apart later ...
        identified_lot: ... and what was told apart.
        bad_anodise_batch: Cause of the cluster of leaking pumps ...
        bad_head_lots: ... and the lots that came back from it.
        reworked_from, rework_batch, reworked_lot: Too thin, stripped, anodised again.
        merged_batch: Batch that two dispatches turned out to be ...
        batch_merged_away: ... and the code of the second, which is no batch any more.
        rejected_lot: Levers in the locked cage.
        gauge_out_of_calibration: Period of the caliper that was found out; see what it accepted.
        held_for_the_gauge: Rests of lots held because of it, and accepted when measured again.
        unlabelled_bin: O-rings found without a label.
        closed_case: A case that was worked down to the last piece.
        candidates_of_the_bin: Lots that they may be of.
        straddling_unit: First unit that was begun before its bench was changed.
        topped_up_lot: First bin that was topped up.
        wrongly_scanned_lot: Lot of springs that was scanned ...
        rightly_mounted_lot: ... when this one was mounted; amended ...
        units_of_the_wrong_scan: ... after all these were built.
        late_mounted_lot: Lot whose mounting was recorded late ...
        units_of_the_late_mount: ... when these were built already.
        units_below_the_book: Built from a bin that was empty by the book; reported.
        swapped_unit: Shipped, returned, given a new motor, shipped again ...
        second_carton: ... in this carton.
        dismantled_unit: Taken apart ...
        recovered_motor: ... its motor is in ...
        unit_with_recovered_motor: ... this one ...
        unit_with_recovered_gear: ... and its gear was mounted for this one.
        unpacked_unit: Taken out of a carton and packed in another.
        scrapped_units: Beyond repair.
        complaint: Serial of the first pump that came back for a leak.
        returned_for_leaks, returned_for_noise, returned_for_other_reasons: Serials.
        repaired_units: Returned, repaired and shipped again.
        no_fault_found: Returned, looked at, tested and shipped again as it was.
    """

    events: int = 0
    units: tuple[str, ...] = ()
    sources_in_two_deliveries: tuple[str, ...] = ()
    held_on_arrival: tuple[str, ...] = ()
    lot_with_a_late_heat: str = ""
    voided_receipt: str = ""
    lot_from_two_heats: str = ""
    lot_of_an_uncertain_insert: str = ""
    powder_at_the_start: str = ""
    last_cover_lot: str = ""
    lot_dried_too_long: str = ""
    noisy_cam_lot: str = ""
    short_batch: str = ""
    over_count_batch: str = ""
    batch_in_two_parts: str = ""
    mixed_return_lot: str = ""
    mixture_of_the_identified: str = ""
    identified_lot: str = ""
    bad_anodise_batch: str = ""
    bad_head_lots: tuple[str, ...] = ()
    reworked_from: str = ""
    rework_batch: str = ""
    reworked_lot: str = ""
    merged_batch: str = ""
    batch_merged_away: str = ""
    rejected_lot: str = ""
    gauge_out_of_calibration: str = ""
    held_for_the_gauge: tuple[str, ...] = ()
    unlabelled_bin: str = ""
    closed_case: str = ""
    candidates_of_the_bin: tuple[str, ...] = ()
    straddling_unit: str = ""
    topped_up_lot: str = ""
    wrongly_scanned_lot: str = ""
    rightly_mounted_lot: str = ""
    units_of_the_wrong_scan: tuple[str, ...] = ()
    late_mounted_lot: str = ""
    units_of_the_late_mount: tuple[str, ...] = ()
    units_below_the_book: tuple[str, ...] = ()
    swapped_unit: str = ""
    second_carton: str = ""
    dismantled_unit: str = ""
    recovered_motor: str = ""
    unit_with_recovered_motor: str = ""
    unit_with_recovered_gear: str = ""
    unpacked_unit: str = ""
    scrapped_units: tuple[str, ...] = ()
    complaint: str = ""
    returned_for_leaks: tuple[str, ...] = ()
    returned_for_noise: tuple[str, ...] = ()
    returned_for_other_reasons: tuple[str, ...] = ()
    repaired_units: tuple[str, ...] = ()
    no_fault_found: str = ""
