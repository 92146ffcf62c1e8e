"""Tags: issued in blocks, accepted at intake, put on instead of a lost one."""
