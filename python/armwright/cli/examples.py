"""Examples of every command, for its help; a test runs the parser over each."""

from __future__ import annotations

_WIDTH = 44
# command: lines, each with a word on what it tells
EXAMPLES: dict[str, tuple[tuple[str, str], ...]] = {
    "new": (("armwright new my-cell", "a small cell to start from, in files with comments"),),
    "demo": (("armwright demo", "the ceramics studio, into ./demo-output"),),
    "check": (
        ("armwright check cell.toml", "what is wrong in a description, by line, or what it holds"),
        ("armwright check cell.toml --units us", "the same in inches and pounds"),
        ("armwright check arm.urdf --base base_link --tool tool0", "an arm on its own"),
    ),
    "targets": (
        ("armwright targets cell.toml -o out", "which work points are served, and why not"),
        ('armwright targets cell.toml -o out --margin "30 mm" --order clearance', "the best by clearance first"),
    ),
    "reach": (
        ('armwright reach cell.toml -o out --spacing "100 mm"', "where the tool can be"),
        ('armwright reach cell.toml -o out --spacing "50 mm" --store kept', "goes on after Ctrl-C"),
    ),
    "payload": (
        ("armwright payload cell.toml -o out --attitude down", "how much it holds where"),
        ("armwright payload arm.urdf --base base_link --tool tool0 -o out --limit peak", "an arm on its own"),
    ),
    "speed": (('armwright speed cell.toml -o out --tool-acceleration "3 m/s^2"', "what it carries while it moves"),),
    "cycle": (
        ("armwright cycle cell.toml cycle.toml -o out", "timing, motors, reducers and supply over a cycle"),
        ("armwright cycle cell.toml cycle.toml -o out --rate 250", "with setpoints, 250 a second"),
        ("armwright cycle cell.toml cycle.toml -o out --first-run", "at no more than 250 mm/s"),
    ),
    "stops": (
        ("armwright stops cell.toml -o out", "brakes, stop times and distances"),
        ('armwright stops cell.toml -o out --reaction "100 ms" --hold-after "200 ms"', "a stop of category 1"),
    ),
    "bears": (
        ('armwright bears cell.toml -o out --cycle cycle.toml --reliability 0.95 --life "20000 h"',
         "what bearings, links, bolts, blocks, rails and feed bear"),
        ("armwright bears cell.toml -o out", "at rest and in stops alone: nothing lasts, and there is no life"),
    ),
    "sag": (('armwright sag cell.toml -o out --spacing "100 mm"', "how far the tool sinks, how stiff the arm is"),),
    "error": (("armwright error cell.toml -o out", "how true the tool stands: play, encoders, tolerances"),),
    "lift": (("armwright lift cell.toml -o out", "how it hangs from its eye, and which motors come out"),),
    "track": (
        ("armwright track cell.toml -o out --within 3m", "whether a track, or a longer one, is worth it"),
        ('armwright track cell.toml -o out --cycle cycle.toml --price "800, 1200" --currency EUR', "with its price"),
    ),
    "place": (('armwright place cell.toml -o out --x "0 m, 2 m" --y "-1 m, 1 m" --yaw any',
               "where the base should stand"),),
    "numbers": (('armwright numbers cell.toml "upper arm"', "the names of numbers, for those that follow"),),
    "changes": (
        ('armwright changes cell.toml -o out --parts parts.toml --prices "1 kW motor=410, reducer 121=380"',
         "which change buys the most"),
        ('armwright changes cell.toml -o out --alternative "track.stroke=1.5 m, 3 m" --prices "3 m=700"',
         "of some alternatives"),
    ),
    "uncertainty": (
        ('armwright uncertainty cell.toml -o out --tolerance "tool.mass=10 %"', "how sure the answers are"),
        ('armwright uncertainty cell.toml -o out --tolerance "arm.links[elbow].mass=10 %" --tolerance "mount.z=3 mm"',
         "with two tolerances"),
    ),
    "sweep": (
        ('armwright sweep cell.toml "track.stroke=1 m, 2 m, 3 m" -o out', "answers of many designs"),
        ('armwright sweep cell.toml "tool.mass=1 kg, 3 kg" "mount.z=0 m, 1 m" --design "latin hypercube" --samples 64',
         "spread between two of each"),
    ),
    "outlines": (("armwright outlines cell.toml -o out", "the outline of the reach, in section and in plan"),),
    "page": (
        ("armwright page cell.toml -o out", "the cell in three dimensions, one file, offline"),
        ('armwright page cell.toml -o out --reach "100 mm" --payload "100 mm" --cycle cycle.toml',
         "with maps to look into and a cycle to play"),
    ),
    "report": (
        ("armwright report cell.toml -o out --cycle cycle.toml", "all questions in one page, as PDF and as tables"),
        ("armwright report cell.toml -o out --questions reach,hold --units us --no-pdf", "two of them, in US units"),
        ("armwright report arm.urdf --base base_link --tool tool0 -o out", "an arm alone: what is not told is missing"),
    ),
    "export": (
        ("armwright export cell.toml cell.glb", "the cell in three dimensions, for CAD and viewers"),
        ('armwright export cell.toml cell.glb --at "kiln, back"', "in the posture that serves a work point"),
        ("armwright export cell.toml plan.dxf --reach", "the plan in mm, with the outline of the reach"),
        ("armwright export out/check_targets.nc points.xlsx", "all tables of a result in one workbook"),
        ("armwright export out/reach_map.nc reach.csv", "the same as CSV files"),
        ('armwright export out/payload_map.nc heavy.glb --threshold "6 kg"', "where that much is held, as a volume"),
        ("armwright export out/outlines.nc outlines.dxf", "section and plan of the reach, in mm"),
    ),
    "schema": (("armwright schema cell > cell.schema.json", "for editors that complete and check TOML"),),
    "completion": (
        ('eval "$(armwright completion bash)"', "the tab key completes; in ~/.bashrc for good"),
        ('eval "$(armwright completion zsh)"', "the same in zsh, behind compinit in ~/.zshrc"),
        ("armwright completion fish > ~/.config/fish/completions/armwright.fish", "the same in fish"),
    ),
}  # fmt: skip


def examples_of(command: str) -> str:
    """The examples of a command, as its help shows them."""
    return _text(EXAMPLES.get(command, ()))


def all_examples() -> str:
    """The first of each command."""
    return _text(tuple(lines[0] for lines in EXAMPLES.values()))


def _text(lines: tuple[tuple[str, str], ...]) -> str:
    if not lines:
        return ""
    told = ["example:" if len(lines) == 1 else "examples:"]
    for line, words in lines:
        told += [f"  {line:<{_WIDTH}}  {words}"] if len(line) <= _WIDTH else [f"  {line}", f"  {'':<{_WIDTH}}  {words}"]
    return "\n".join(told)
