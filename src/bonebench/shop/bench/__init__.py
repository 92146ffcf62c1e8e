"""What stands on the wet bench as plain values: chemicals with their classes, materials, glues, and what may not meet what."""

from bonebench.shop.bench.adhesives import Adhesive
from bonebench.shop.bench.chemicals import (
    Chemical,
    Clash,
    ExposureLimit,
    FireClass,
    HazardClass,
    chemical_of,
    clash_of,
    classes_at,
    fire_class_at,
    listed_by_suppliers_at,
)
from bonebench.shop.bench.materials import MEDIA, Material, Touch, material_of

__all__ = [
    "MEDIA",
    "Adhesive",
    "Chemical",
    "Clash",
    "ExposureLimit",
    "FireClass",
    "HazardClass",
    "Material",
    "Touch",
    "chemical_of",
    "clash_of",
    "classes_at",
    "fire_class_at",
    "listed_by_suppliers_at",
    "material_of",
]
