"""The shop plan: parts, bills of material, routes, places, benches, resources and people."""

from __future__ import annotations

from lotkin.core.plan.entries.parts import BarPlan, NeedPlan, PartPlan, UnitTestPlan
from lotkin.core.plan.entries.places import (
    BenchPlan,
    BenchPositionPlan,
    CustomerPlan,
    PlacePlan,
    ShopPlacePlan,
    SupplierPlan,
)
from lotkin.core.plan.entries.resources import ResourcePlan
from lotkin.core.plan.entries.steps import MeasurePlan, StepPlan
from lotkin.core.plan.entries.works import PersonPlan, WorksPlan
from lotkin.core.plan.file.checking import check_plan
from lotkin.core.plan.file.plan_file import parse_plan
from lotkin.core.plan.file.positions import Positions, find_positions
from lotkin.core.plan.file.problems import PlanDataError, PlanProblem
from lotkin.core.plan.gtin import gtin_problem
from lotkin.core.plan.kinds import (
    CertificateKind,
    PartKind,
    PlaceKind,
    ResourceKind,
    Role,
    RunKind,
    ShopPlaceKind,
    Unit,
)
from lotkin.core.plan.shop_plan import ShopPlan

__all__ = [
    "BarPlan",
    "BenchPlan",
    "BenchPositionPlan",
    "CertificateKind",
    "CustomerPlan",
    "MeasurePlan",
    "NeedPlan",
    "PartKind",
    "PartPlan",
    "PersonPlan",
    "PlaceKind",
    "PlacePlan",
    "PlanDataError",
    "PlanProblem",
    "Positions",
    "ResourceKind",
    "ResourcePlan",
    "Role",
    "RunKind",
    "ShopPlaceKind",
    "ShopPlacePlan",
    "ShopPlan",
    "StepPlan",
    "SupplierPlan",
    "Unit",
    "UnitTestPlan",
    "WorksPlan",
    "check_plan",
    "find_positions",
    "gtin_problem",
    "parse_plan",
]
