"""From a plan and a shop to the whole build: names in their order, site, stock, assemblies with their places, loads."""

from storystick.resolve.logged import resolve as resolve
