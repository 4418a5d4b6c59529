"""Stairhold: trade sequencing for stair and guard details that are built in place."""
