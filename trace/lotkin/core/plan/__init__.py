"""The shop plan: parts, bills of material, routes, places, benches, resources and people."""

from __future__ import annotations

from lotkin.core.plan.checking import check_plan
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
from lotkin.core.plan.parts import BarPlan, NeedPlan, PartPlan, UnitTestPlan
from lotkin.core.plan.places import (
    BenchPlan,
    BenchPositionPlan,
    CustomerPlan,
    PlacePlan,
    ShopPlacePlan,
    SupplierPlan,
)
from lotkin.core.plan.plan_file import parse_plan
from lotkin.core.plan.positions import Positions, find_positions
from lotkin.core.plan.problems import PlanDataError, PlanProblem
from lotkin.core.plan.resources import ResourcePlan
from lotkin.core.plan.shop_plan import ShopPlan
from lotkin.core.plan.steps import MeasurePlan, StepPlan
from lotkin.core.plan.works import PersonPlan, WorksPlan

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
