"""The kinds of long work there are."""

from collections.abc import Mapping

from bonebench.door.work import Kind

KINDS: Mapping[str, Kind] = {}
