"""Tags of the demo that tests of the pages look at. A specimen added to the demo shifts them: see test_demo_tags."""

RINSING_NEXT = "0ZP-X"  # a white-tailed deer in the peroxide, the first that goes into the rinse
IN_TUB = "0ZC-M"  # a Virginia opossum in the peroxide, with photos and teeth marked
FINISHED_NEXT = "0ZA-Q"  # a striped skunk, dry: its jaw is put together next
ON_HOLD = "107-G"  # a gray wolf whose tag papers are missing
IN_BOX = "0ZY-F"  # a red fox with the beetles
READY = "0ZJ-8"  # a gray fox that waits on the ready shelf for its owner
AT_THE_GLUE = "0ZN-0"  # a coyote whose teeth were glued
