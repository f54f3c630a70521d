"""wholefilm: plan, record, judge and hand over a holiday test on a protective coating."""

__version__ = "0.1.0"
