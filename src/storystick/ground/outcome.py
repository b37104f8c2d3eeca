"""What a stage hands back: what it made, and what it found on the way."""

from dataclasses import dataclass

from storystick.ground.finding import Finding, Grade, worst


@dataclass(frozen=True, slots=True)
class Outcome[T]:
    """A product and its findings. A stage makes what it can; `made` is None only if nothing could be made."""

    made: T | None
    findings: tuple[Finding, ...] = ()

    @property
    def sound(self) -> bool:
        """True when something was made and nothing found stops the work."""
        return self.made is not None and worst(self.findings) < Grade.STOP
