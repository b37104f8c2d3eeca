"""What was asked for: the plan file, read as far as it can be without knowing any joint or kind of assembly."""

from storystick.plan.plan import Accepted as Accepted
from storystick.plan.plan import Entry as Entry
from storystick.plan.plan import Plan as Plan
from storystick.plan.read import read_plan as read_plan
