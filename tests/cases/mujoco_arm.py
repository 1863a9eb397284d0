"""One of our plain chains as a mujoco model, from the same numbers: armature for rotors, frictionloss for brakes and
Coulomb friction, damping for viscous friction."""

from __future__ import annotations

from typing import Any

import numpy as np

from cases.chain import Array, Chain

G = 9.80665  # m/s²


def quaternion(R: Array) -> Array:
    """w, x, y, z."""
    import mujoco

    out = np.empty(4)
    mujoco.mju_mat2Quat(out, np.ascontiguousarray(R).ravel())
    return out


def numbers(values: Any) -> str:
    return " ".join(repr(float(v)) for v in values)


HARD = 'solreffriction="-1e8 -1e5" solimpfriction="0.9999 0.9999 0.001 0.5 2"'


def xml(chain: Chain, armature: Array, friction: Array, damping: Array, options: str, solver: str = HARD) -> str:
    """``options``: of the <option> element; ``solver``: of friction at the joints, as hard as it can be or, if empty,
    as mujoco has it by default."""
    rows, ends = [], []
    for i, link in enumerate(chain.links):
        I = link.inertia  # noqa: E741
        full = (I[0, 0], I[1, 1], I[2, 2], I[0, 1], I[0, 2], I[1, 2])
        kind = "hinge" if link.kind == "revolute" else "slide"
        X = link.placement
        rows += [
            f'<body name="link {i}" pos="{numbers(X[:3, 3])}" quat="{numbers(quaternion(X[:3, :3]))}">',
            f'<joint type="{kind}" axis="{numbers(link.axis)}" armature="{float(armature[i])!r}" '
            f'damping="{float(damping[i])!r}" frictionloss="{float(friction[i])!r}" '
            f"{solver}/>",
            f'<inertial pos="{numbers(link.centre)}" mass="{float(link.mass)!r}" fullinertia="{numbers(full)}"/>',
        ]
        ends.append("</body>")
    X = chain.tool
    rows.append(f'<site name="tool" pos="{numbers(X[:3, 3])}"/>')
    return (
        f'<mujoco><compiler balanceinertia="false" boundmass="0" boundinertia="0" inertiafromgeom="false"/>'
        f'<option gravity="0 0 {-G!r}" {options}><flag contact="disable" limit="disable"/></option>'
        f"<worldbody>{''.join(rows)}{''.join(ends)}</worldbody></mujoco>"
    )


def model_of(
    chain: Chain, armature: Array, friction: Array, damping: Array, options: str, solver: str = HARD
) -> Any:
    import mujoco

    return mujoco.MjModel.from_xml_string(xml(chain, armature, friction, damping, options, solver))
