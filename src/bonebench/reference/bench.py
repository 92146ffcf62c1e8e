"""The three tables of the wet bench in one place: chemicals, materials, glues."""

from bonebench.reference.adhesives import load_adhesives, read_adhesives
from bonebench.reference.chemicals import load_chemicals, read_chemicals
from bonebench.reference.materials import load_materials, read_materials

__all__ = ["load_adhesives", "load_chemicals", "load_materials", "read_adhesives", "read_chemicals", "read_materials"]
