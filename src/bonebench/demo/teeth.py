"""Invented teeth of three of the demo's specimens, with how many days ago each was written: glued, in a jar, and one missing."""

from bonebench.shop.teeth_entries import JarChanged, JarCounted, TeethMarked, ToothState
from bonebench.shop.what import What

Told = tuple[tuple[float, What], ...]

AT_THE_GLUE: Told = (
    (9.0, TeethMarked({"URI3": ToothState.IN_JAR, "ULI2": ToothState.IN_JAR, "LLP1": ToothState.IN_JAR}, ToothState.IN_PLACE)),
    (9.0, JarCounted(3)),
    (0.4, TeethMarked(dict.fromkeys(("URI3", "ULI2", "LLP1"), ToothState.GLUED))),
    (0.4, JarCounted(0)),
)
IN_THE_JAR: Told = (
    (8.0, TeethMarked({"URI1": ToothState.IN_JAR, "LRP1": ToothState.IN_JAR, "LLI1": ToothState.LOOSE, "ULC": ToothState.CHIPPED})),
    (8.0, JarCounted(2)),
)
ONE_MISSING: Told = (
    (14.0, TeethMarked({"ULI3": ToothState.IN_JAR, "URP1": ToothState.MISSING_NOW}, ToothState.IN_PLACE)),
    (14.0, JarCounted(1)),
    (5.0, JarChanged(1)),
)
