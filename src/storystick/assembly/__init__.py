"""Can it be put together? An order in which everything comes in along a straight way, or what makes that impossible."""

from storystick.assembly.together import put_together

__all__ = ["put_together"]
