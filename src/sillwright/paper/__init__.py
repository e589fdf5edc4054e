"""Papers: the elevation of an opening, the chart of a contact, the report of a site."""

from sillwright.paper.elevation import elevation
from sillwright.paper.svg import svg

__all__ = ["elevation", "svg"]
