"""Work: how each cut is made with the tools of one shop, the order of all of it, and what to buy for it."""

from storystick.work.buying import buy
from storystick.work.steps import can_be_made, plan_work

__all__ = ["buy", "can_be_made", "plan_work"]
