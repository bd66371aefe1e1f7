"""Many set-ups at once: a durable line of work, and processes that take from it."""

from wellset.jobs.line import JobLine, Work

__all__ = ["JobLine", "Work"]
