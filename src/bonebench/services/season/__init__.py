"""The couplings between subjects: the box with its colony in it."""
