"""One file for each page or part of the API; each has a ``router`` and is found by its folder."""
