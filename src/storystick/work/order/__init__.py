"""In what order jobs are best done by one pair of hands: plain numbers in, an order with its times and its bound out.

Nothing here knows wood. A task waits for others, takes minutes, wants its machines set; glue and finish go on by
themselves meanwhile, in clamps and on a bench that hold only so much.
"""

from storystick.work.order.bound import Least, least
from storystick.work.order.play import Played, play
from storystick.work.order.search import ROUNDS, Found, best_order
from storystick.work.order.task import Jobs, Shopday, Stand, Task

__all__ = ["ROUNDS", "Found", "Jobs", "Least", "Played", "Shopday", "Stand", "Task", "best_order", "least", "play"]
