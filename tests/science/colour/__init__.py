"""Tests of the colour of bone."""
