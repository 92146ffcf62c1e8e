"""Files people bring: each module reads one format into plain values, with the place of every fault."""
