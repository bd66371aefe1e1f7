"""The lesson book in a browser: pages and a REST interface over the same use cases."""

from wellset.web.app import create_app
from wellset.web.site import Options

__all__ = ["Options", "create_app"]
