"""The piece and its surroundings as solids in the room's axes, each made once and only when asked for."""

from dataclasses import dataclass
from functools import cached_property

from storystick.model.body import own_pose, pose_in_parent, solid_of, solid_of_shapes
from storystick.model.build import Build
from storystick.shapes.pose import HERE, Pose, compose, invert
from storystick.shapes.solid import Solid, moved


@dataclass(frozen=True, eq=False)
class Scene:
    """The solids of a build. All in millimetres, in the room's axes unless said otherwise."""

    build: Build

    @cached_property
    def poses(self) -> dict[str, Pose]:
        """From each assembly's axes to the room's, by the assembly's name."""
        found: dict[str, Pose] = {}
        for one in self.build.assemblies:  # outer ones come before those inside them
            outer = found[one.inside_of] if one.inside_of else HERE
            found[one.name] = compose(outer, pose_in_parent(one))
        return found

    @cached_property
    def part_poses(self) -> dict[str, Pose]:
        """From each part's own coordinates to the room's axes, by the part's name."""
        return {p.name: compose(self.poses[p.assembly], own_pose(p)) for p in self.build.parts}

    def back_to_own(self, part: str) -> Pose:
        """From the room's axes to a part's own coordinates."""
        if part not in self._backs:
            self._backs[part] = invert(self.part_poses[part])
        return self._backs[part]

    @cached_property
    def _backs(self) -> dict[str, Pose]:
        return {}

    @cached_property
    def own_solids(self) -> dict[str, Solid]:
        """Each part as a finished solid in its own coordinates; parts that are alike share one."""
        return {part.name: solid_of(part) for part in self.build.parts}

    @cached_property
    def parts(self) -> dict[str, Solid]:
        """Each part as a solid in the room."""
        return {name: moved(solid, self.part_poses[name]) for name, solid in self.own_solids.items()}

    @cached_property
    def site(self) -> dict[str, Solid]:
        """Each site body as a solid in the room."""
        return {body.name: solid_of_shapes(body.shapes) for body in self.build.site}

    def kilograms(self, name: str) -> float:
        """Weight of one part [kg], from its solid and the density of its stock."""
        return self.own_solids[name].volume * 1e-9 * self.build.part(name).stock.density

    def weight_of(self, assembly: str) -> float:
        """Weight of an assembly with everything inside it, wood and hardware [kg]."""
        inside = self.inside(assembly)
        wood = sum(self.kilograms(p.name) for p in self.build.parts if p.assembly in inside)
        return wood + sum(i.kilograms * i.count for i in self.build.items if i.assembly in inside)

    def inside(self, assembly: str) -> frozenset[str]:
        """The assembly's name and the names of all that are inside it."""
        names = {assembly}
        for one in self.build.assemblies:
            if one.inside_of in names:
                names.add(one.name)
        return frozenset(names)
