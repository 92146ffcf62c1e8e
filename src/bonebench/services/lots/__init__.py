"""Lots: specimens treated together, without losing who is who."""
