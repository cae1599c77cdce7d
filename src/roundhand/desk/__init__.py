"""The desk: a page with margins in the browser, served on this computer alone.

The server unpacks what the page asks, asks the workshop, and answers; it works nothing out itself. What can be asked is
described at `/openapi.json`, which is made from the same operations.
"""

from roundhand.desk.app import make_app
from roundhand.desk.desk import Desk
from roundhand.desk.opening import open_desk
from roundhand.desk.shortcut import shortcut

__all__ = ["Desk", "make_app", "open_desk", "shortcut"]
