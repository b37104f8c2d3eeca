"""Scales that a drawing is made in: only round ones."""

SCALES = (
    1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 25.0, 30.0, 40.0,
    50.0, 75.0, 100.0, 200.0,
)  # fmt: skip


def fitting(long: float, room: float) -> float:
    """The largest scale, as the millimetres of the thing to one of paper, at which `long` goes into `room` [mm]."""
    return next((scale for scale in SCALES if long / scale <= room), long / room)


def scale_said(scale: float) -> str:
    """A scale in words."""
    if scale == 1:
        return "full size"
    if scale in (0.5, 0.25):
        return f"enlarged {1 / scale:g}:1"
    return f"1:{scale:g}" if scale in SCALES else "not to scale"
