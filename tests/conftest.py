"""What every test shares."""

import os

from hypothesis import settings

# The first example of a test may compile a function, which takes longer than any deadline. What is
# checked before a change lands tries the same examples every time; elsewhere new ones are tried.
settings.register_profile("coldsoak", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("coldsoak")
