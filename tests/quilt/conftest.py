"""No property test is judged by the clock: the machine may be shared."""

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
