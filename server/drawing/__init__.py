"""Drawings: pure functions from plain data to SVG text. No page, no store, no clock."""
