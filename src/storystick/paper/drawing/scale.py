"""Scales that a drawing is made in: only such as are on a scale rule."""

SCALES = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 16.0, 20.0, 24.0, 30.0, 40.0, 50.0, 75.0, 100.0, 200.0)


def fitting(long: float, room: float) -> float:
    """The largest scale, as the millimetres of the thing to one of paper, at which `long` goes into `room` [mm]."""
    return next((scale for scale in SCALES if long / scale <= room), long / room)


def scale_said(scale: float) -> str:
    """A scale in words."""
    if scale == 1:
        return "drawn full size"
    return f"drawn 1:{scale:g}" if scale in SCALES else "not to scale"
