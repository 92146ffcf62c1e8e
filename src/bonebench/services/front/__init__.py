"""The front of the route: the outdoors as a freezer, and the thaw shelf with the freezer after it."""
