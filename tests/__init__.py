"""The tests, room by room as the package is.

What several of them share stands in modules that are no tests themselves and is imported by its full name
(``from tests.solve.small import cut``); ``tests/test_floors.py`` keeps it so.
"""
