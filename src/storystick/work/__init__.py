"""Work: how each cut is made with the tools of one shop, the order of all of it, and what to buy for it."""

from storystick.work.buying import buy
from storystick.work.steps import plan_work

__all__ = ["buy", "plan_work"]
