"""The season ahead: what comes in against what there is, when the freezer fills, the last day for a holiday."""
