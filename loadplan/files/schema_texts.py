"""What an editor says of each key: one line each, by the name of its table's shape."""

from collections.abc import Mapping
from dataclasses import fields
from math import degrees, isclose, radians
from types import MappingProxyType

from loadplan.limits import Limits, limit_text
from loadplan.units import Kind, System, bare_unit, from_si

_NAME = "What the other tables and the reports call it; each of a kind needs its own."
_FRICTION = "How well the saddle holds sideways, as a number. Left out: by top, else as the job's limits say."
_OUTLINE = "Corners as seen from above, x in front of the axle line, y left of the centre line."
_BOTTOM = "Lowest height z over the floor, the vehicle at ride height."
_TOP = "Greatest height z over the floor, the vehicle at ride height."
_KNOWN = "How good the figures are. Left out: as the file says, else a guess."


def _limit_words(name: str, default: float) -> str:
    """Return what an editor says of a limit, with its default in the units of a metric file."""
    told = limit_text(name)
    if told.kind is Kind.ANGLE:
        shown = f"{degrees(default):.6g} degree{'' if isclose(default, radians(1)) else 's'}"
    elif told.kind in {None, Kind.SHARE}:
        shown = f"{default:.6g}"
    else:
        shown = f"{from_si(default, told.kind, System.METRIC):.6g} {bare_unit(told.kind, System.METRIC)}"
    return f"{told.asks} Default {shown}."


EVERYWHERE: Mapping[str, str] = MappingProxyType({
    "schema": "What kind of file this is.",
    "units": "Units of bare numbers: metric (mm, kg, N, N/mm, N·m) or us (in, lb, lbf, lbf/in, lbf·ft).",
})
"""Keys of every file."""

TABLES: Mapping[str, str] = MappingProxyType({
    "body": "Assemblies: parts that move as one rigid piece, the vehicle on the lift among them.",
    "part": "Items with a mass and a centre of gravity.",
    "joint": "What ties two assemblies: bolts, or a mount.",
    "point": "Places on an assembly where a stand may bear.",
    "tie": "Hoses, harnesses, straps and fasteners that have to be off or tied before something comes off.",
    "equipment": "Stands, jacks, tables and hoists that the shop owns.",
    "lift": "Vehicle lifts.",
    "shim": "Blocks and plates that the shop owns.",
    "limits": "What is asked of the plan; each key left out has its default.",
    "support": "Stands, jacks, tables and hoists in use: which one goes where.",
    "stage": "Steps of the job in their order. What a step changes holds until a later one changes it.",
    "set": "Readings taken at one attitude, with every place that holds the unit.",
})
"""Tables."""

KEYS: Mapping[str, Mapping[str, str]] = MappingProxyType({
    "VehicleHead": {
        "name": "What people call the vehicle.",
        "example": "true: the data is invented, and every report says so.",
        "known": "How good the figures are. Left out: a guess.",
    },
    "BodyTable": {
        "name": _NAME,
        "outline": _OUTLINE,
        "bottom": _BOTTOM,
        "top": _TOP,
        "weighed": "What scales said of it with all its parts on; stands in for the sum of its parts.",
        "known": _KNOWN,
    },
    "WeighedTable": {
        "mass": "What it weighs.",
        "mass_pm": "Plus or minus, as a mass or in per cent. Left out: by known, weighed 2 %.",
        "cg": "Its centre of gravity [x, y, z].",
        "cg_pm": "Plus or minus on the place: one length, or three. Left out: 10 mm.",
        "date": "Day of the weighing.",
    },
    "PartTable": {
        "name": _NAME,
        "body": "Assembly that it belongs to.",
        "mass": "What it weighs.",
        "mass_pm": "Plus or minus, as a mass or in per cent. Left out: weighed 2 %, data sheet 10 %, guess 20 %.",
        "at": "Its centre of gravity [x, y, z].",
        "at_pm": "Plus or minus on the place: one length, or three. Left out, by known: 10, 25 or 40 mm.",
        "after": "Parts that must be off before it comes off.",
        "known": _KNOWN,
        "outline": f"{_OUTLINE} Then it is drawn by itself, and gone when it is off.",
        "bottom": _BOTTOM,
        "top": _TOP,
    },
    "JointTable": {
        "name": _NAME,
        "kind": "bolted: one rigid whole. mount: a spring up and down. link: a rod, that holds along itself.",
        "between": "The two assemblies that it ties.",
        "at": "Its place [x, y, z]; bolts may have a list of places; of a link its end on the first assembly.",
        "to": "End of a link on the second assembly [x, y, z].",
        "stiffness": "Of a mount or link, up and down. Left out: 300 N/mm.",
        "limit": "Force that a mount or link may carry up or down. Left out: not checked.",
        "part": "Part that it goes with: it is undone while that part is off.",
    },
    "PointTable": {
        "name": _NAME,
        "body": "Assembly that it is on.",
        "at": "Where [x, y, z].",
        "limit": "Force that the place may take. Left out: not checked, and said so.",
        "say": "What is printed beside it: where exactly the saddle goes.",
        "part": "Part that it is on: gone while that part is off. Left out: it is taken to stay, and said so.",
    },
    "TieTable": {
        "name": _NAME,
        "body": "Assembly that it is at.",
        "at": "Where [x, y, z].",
        "what": "off: it has to be off. tied: it has to be tied up.",
        "before": "Joints and parts, before the first of which it has to be. Left out: all that ties its assembly.",
        "say": "What is printed beside it: how it is found, or what with it is tied.",
    },
    "EquipmentTable": {
        "name": _NAME,
        "kind": "What it is.",
        "rating": "What is marked on it, as a mass or a force.",
        "rated_for": "Whether the mark is for one piece or for a pair. Left out: half is taken, and a note says so.",
        "heights": "Saddle heights: from, to and step (none: stepless), or a list.",
        "base": "Its footprint: side of a square, two sides along x and y, or { circle = ... }.",
        "saddle": "Its contact area, written like base.",
        "stiffness": "Up and down. Left out, by kind: stand 2500, jack and table 1500, hoist 1000 N/mm.",
        "friction": _FRICTION,
        "top": "What is on its saddle, for its friction: oily steel 0.05, steel or timber 0.3, rubber 0.5.",
        "count": "How many the shop has.",
        "tags": "What is painted on each piece.",
        "out_of_use": "Tags that must not be used.",
        "locks": "true: held mechanically. Left out: true for a stand and a table, false for the others.",
        "wheels": "true: it stands on castors.",
        "inspected": "Day of the last inspection, or one for each tag.",
        "inspect_months": "Months from one inspection to the next.",
    },
    "HeightsTable": {"from": "Lowest.", "to": "Highest.", "step": "From one setting to the next. Left out: stepless."},
    "CircleTable": {"circle": "Diameter."},
    "LiftTable": {
        "name": _NAME,
        "rating": "What is marked on it, as a mass or a force.",
        "arms": "How many arms.",
        "arm_rating": "What one arm may carry. Left out: rating by arms.",
        "rise": "Greatest height of the pads over the floor.",
        "ceiling": "Height of the ceiling over the floor.",
        "locks": "Whether it can be let down on mechanical locks.",
        "lock_step": "From one lock to the next; 0 on screws, which lock at any height.",
        "posts": "Where its posts stand.",
        "stiffness": "Of one arm, up and down. Left out: 400 N/mm.",
    },
    "PostsTable": {"y": "Place of each post, left of the centre line.", "size": "Side of a post."},
    "ShimTable": {"height": "Height.", "wood": "Species, or rubber or steel.", "count": "How many the shop has."},
    "JobHead": {
        "title": "What the job is.",
        "vehicle": "Name of a vehicle that ships, or a file beside this one. Left out: its tables stand here.",
        "shop": "File of the shop, as seen from this one. Left out: its tables stand here.",
        "date": "Day of the job, on which inspections are judged. Left out: today.",
        "until": "Day up to which the equipment is taken.",
        "bodies": "Assemblies in use. Left out: all. One that is not named is carried elsewhere.",
        "name": "What people call the vehicle, where its tables stand here.",
        "example": "true: the data is invented, and every report says so.",
        "known": "How good the figures are, where the vehicle's tables stand here. Left out: a guess.",
    },
    "LimitsTable": {each.name: _limit_words(each.name, getattr(Limits(), each.name)) for each in fields(Limits)},
    "LiftUseTable": {
        "use": "Name of the lift, under which steps put it in place or take it away.",
        "body": "Assembly that it holds: the vehicle.",
        "columns": "Where the line through its posts is: in front of the axle line, minus behind.",
        "pads": "Places under which its arms stand, as many as it has arms.",
        "in_place": "Whether it holds the vehicle before the first step. Default true.",
    },
    "StackTable": {"height": "Height.", "wood": "Species, or rubber or steel.", "crib": "true: built crosswise."},
    "SupportTable": {
        "name": "Its letter; stands, lift pads and bolts or mounts share one space of names.",
        "use": "Equipment of the shop.",
        "tag": "Which piece.",
        "under": "Place that it bears on; or give body and at.",
        "body": "Assembly that it bears on, with at.",
        "at": "Place on that assembly [x, y, z].",
        "height": "Saddle height set. Left out: brought up to just touch when it is put in place.",
        "shim": "What lies on the saddle: its height, or a table.",
        "friction": _FRICTION,
        "standby": "true: set to just touch, carries nothing until something moves.",
        "on": "Assembly that it stands on or hangs from. Left out: the floor.",
        "piece": "Supports with the same piece are one piece of equipment.",
        "keep": "true: the planner leaves it where it is.",
    },
    "PullTable": {
        "body": "Assembly that is pulled.",
        "at": "Where [x, y, z].",
        "force": "The force, with towards.",
        "towards": "Its direction [x, y, z].",
        "torque": "The torque, with about and bar.",
        "about": "Its axis [x, y, z].",
        "bar": "Length of the bar.",
    },
    "StageTable": {
        "name": _NAME,
        "in_place": "Stands, or the lift, that are put in place.",
        "cleared": "Stands, or the lift, that are taken away.",
        "undone": "Bolts and mounts that come off.",
        "done_up": "Bolts and mounts that are tight again.",
        "off": "Parts that come off.",
        "on": "Parts that are on again.",
        "any_order": "true: judge every order of taking these parts off.",
        "bar": "true: somebody pulls hard on a bar in this step.",
        "pull": "A pull that is known: a force, or a torque on a bar.",
        "unattended": "true: left alone, overnight.",
        "moved": "true: rolled on a table or dolly; not judged.",
        "lowered": "How far the lift goes down past first touch.",
        "raised": "The same with the stands brought up.",
        "lift_locked": "Whether the lift stands on its locks.",
        "confirm": "Boxes to tick, besides the usual ones.",
        "set": "Saddle heights set anew from this step on, by the letters of stands in place.",
        "undone_in_order": "true: what is undone comes off one after the other, as listed.",
        "readings": "What was found in this step, under stands or on the lift, by scales or by hand.",
    },
    "ReadingTable": {
        "support": "Stand, hoist or lift pad that was read; or the lift, for what its own gauge shows.",
        "load": "What the scale reads.",
        "pm": "Plus or minus on it, as a mass or in per cent. Left out: 1 %, at least 0.5 kg.",
        "turns": "Instead of load: true: a hand turns it. false: it does not turn.",
        "lowered": "How far the lift was down past first touch when it was read. Left out: as the step has it.",
    },
    "ReadingsHead": {
        "title": "What was weighed.",
        "tape": "Plus or minus on where each place is: how well it was measured.",
    },
    "ScaleTable": {
        "at": "Where the unit touches [x, y], with z in a tilted set; for a wheel its axle centre.",
        "load": "What the scale reads. Left out: a place that is not weighed.",
        "pm": "Plus or minus on it, as a mass or in per cent.",
    },
    "HookTable": {
        "at": "Where the hook holds [x, y, z].",
        "load": "What the crane scale reads.",
        "pm": "Plus or minus on it, as a mass or in per cent.",
        "hangs_level": "true: it hangs level, so its centre of gravity is under the hook.",
    },
    "SetTable": {
        "nose_up": "How far its front is up; minus: its rear.",
        "left_up": "How far its left side is up; minus: its right.",
        "nose_up_pm": "Plus or minus on it.",
        "left_up_pm": "Plus or minus on it.",
        "scale": "Every place that holds the unit, with or without a scale.",
        "hook": "A crane scale from which it hangs.",
    },
})
"""Keys of each table."""
