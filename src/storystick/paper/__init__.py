"""Paper: drawings and the packet that goes to the bench. It reckons no lengths: every number comes from the model."""

from storystick.paper.binding import Stopped, draw_pages, drawings, packet, wait_for_nothing
from storystick.paper.folder import Folder
from storystick.paper.press import PAPERS, Paper
from storystick.paper.roll import roll_out

__all__ = ["PAPERS", "Folder", "Paper", "Stopped", "draw_pages", "drawings", "packet", "roll_out", "wait_for_nothing"]
