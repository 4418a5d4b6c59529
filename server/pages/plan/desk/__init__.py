"""The plan edited in place: a cell typed, a row or a layer added, and all that follows from it."""
