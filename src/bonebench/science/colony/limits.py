"""Where the air of a box begins to matter to its colony: plain numbers, quick to import.

The bands are estimates of the reference (section 7); what they rest on stands beside each.
"""

FLIGHT_C = 26.7  # a museum keeper: not below 80 F [S38]
SUFFER_C = 32.0  # estimate
DEADLY_C = 38.0  # estimate
# Mites gain water above 65-70 % [S40] and some breed from 80 % [S39]; mould takes 75-80 % [S42]. How long it may last: an estimate.
DAMP, DAMP_HOURS = 0.70, 24
WET, WET_HOURS = 0.75, 48
DRY, DRY_HOURS = 0.35, 24
# How long something that went in frozen or fresh serves as drink: `# common practice, no source`.
MOIST_DAYS = 1.0
