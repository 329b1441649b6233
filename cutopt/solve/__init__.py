"""The solver: a first full plan at once, then better ones, with a bound, until told to stop."""
