"""The building round the box: what it is (`building`), and how it goes through the weather (`year`)."""

from bonebench.science.building.building import Building, Flame, check_building
from bonebench.science.building.fuel import tank_days, tank_kwh
from bonebench.science.building.year import BuildingMonth, BuildingYear, through

__all__ = ["Building", "BuildingMonth", "BuildingYear", "Flame", "check_building", "tank_days", "tank_kwh", "through"]
