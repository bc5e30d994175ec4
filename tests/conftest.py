"""What every test shares."""

from hypothesis import settings

# The first example of a test may compile a function, which takes longer than any deadline.
settings.register_profile("coldsoak", deadline=None)
settings.load_profile("coldsoak")
