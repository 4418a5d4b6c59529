"""Why a start is where it is, as numbers that the passes compare.

A dependency's reason is its own number. The others are counted from the number of dependencies
on, so that of equal bounds the one with the lowest reason counts: dependencies in the order given,
then dates. A fact has the lowest of all: only a later bound takes its place.
"""

ACTUAL = -1
NOT_BEFORE, NOTICE, STATUS, START, PROMISED, MOST = range(6)
