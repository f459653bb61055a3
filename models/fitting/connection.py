"""How a part can be connected to the instrument; apart from the readers, so that a case loads without them."""

from __future__ import annotations

CONNECTIONS = ("one-port", "series-thru", "shunt-thru")
"""At one port; in series between two ports; from the line between two ports to ground."""
