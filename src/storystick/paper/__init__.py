"""Paper: drawings and the packet that goes to the bench. It reckons no lengths: every number comes from the model."""

from storystick.paper.binding import Stopped, drawings, packet
from storystick.paper.folder import Folder
from storystick.paper.press import PAPERS, Paper
from storystick.paper.roll import roll_out

__all__ = ["PAPERS", "Folder", "Paper", "Stopped", "drawings", "packet", "roll_out"]
