"""Answers of every kind that people give to a question, taken and not taken: invented, and none from any vehicle."""

from collections.abc import Mapping
from types import MappingProxyType

from loadplan.planning.interview.question import Ask, Question

LUMPS = ("engine", "gearbox", "subframe")

QUESTIONS: tuple[Question, ...] = (
    Question("title", "", Ask.WORDS),
    Question("what", "", Ask.CHOICE, words=("front unit", "rear unit", "drive unit", "my own measures")),
    Question("off", "", Ask.SEVERAL, default="nothing", words=("nothing", "engine", "gearbox", "head, left")),
    Question("places", "", Ask.SEVERAL, words=("front left", "front right", "rear left", "rear right")),
    Question("stands", "", Ask.SEVERAL, words=("A", "B", "C", "D")),
    Question("bar", "", Ask.YES_NO),
    Question("count", "", Ask.WHOLE, least=3, most=12),
    Question("days", "", Ask.DAYS, default=""),
    Question("height", "", Ask.LENGTH, least=0.05, most=1.2),
    Question("weight", "", Ask.MASS, least=300.0, most=10_000.0),
    Question("engine.weight", "", Ask.WEIGHT, default="", least=3.0, most=1500.0),
    Question("rating", "", Ask.LOAD, least=5e3, most=2e5),
    Question("mark", "", Ask.MARK, least=500.0, most=5e5),
    Question("share", "", Ask.SHARE, least=0.3, most=0.8, whole=1400.0),
    Question("share", "", Ask.SHARE, least=0.3, most=0.8),
    Question("along", "", Ask.ALONG, least=-6.0, most=6.0),
    Question("across", "", Ask.ACROSS, least=-6.0, most=6.0),
    Question("up", "", Ask.UP, least=-6.0, most=6.0),
    Question("pads", "", Ask.SPAN, least=-6.0, most=2.0),
    Question("prop", "", Ask.PLACE, least=-6.0, most=6.0),
    Question("box", "", Ask.BOX, least=-6.0, most=6.0),
    Question("standA", "", Ask.SEAT, words=LUMPS, least=-6.0, most=6.0),
    Question("inner", "", Ask.TIE, least=-6.0, most=6.0),
    Question("heights", "", Ask.HEIGHTS, least=0.02, most=3.0),
    Question("base", "", Ask.FOOT, default="", least=0.03, most=3.0),
    Question("owned", "", Ask.OWNED, least=1, most=50),
    Question("shims", "", Ask.SHIMS, default="", words=("steel", "oak"), least=0.001, most=0.3),
    Question("parts", "", Ask.PARTS, default="nothing", words=LUMPS, least=0.5, most=400.0),
    Question("parts", "", Ask.PARTS, default="nothing", least=0.5, most=400.0),
    Question("uses", "", Ask.USES, words=("stand", "stand 2", "jack")),
)
"""One question of each kind, with the bounds of one that is asked."""

ANSWERS: Mapping[Ask, tuple[str, ...]] = MappingProxyType({
    Ask.WORDS: ("", "  a   blue van ", "x" * 100, "x" * 101, "y" * 300, "z" * 301, "a\tb", "a\x07b"),
    Ask.CHOICE: ("", "1", "4", "0", "5", "front", "REAR UNIT", "unit", "own", "measures", "boat"),
    Ask.SEVERAL: (
        "", "all", "ALL", "none", "nothing", "1", "1, 2", "1-2", "3 to 2", "2 to 4", "1–3", "front left, 4",
        "gearbox; 2",
        "engine,engine", "A C", "a,d", "B D E", "left", "9", ",",
    ),
    Ask.YES_NO: ("", "y", "yes", "YEP", "j", "ja", "true", "n", "No", "nope", "false", "perhaps"),
    Ask.WHOLE: ("", "3", "12", "2", "13", "4.0", "-4", "four", "00005"),
    Ask.DAYS: (
        "", "2026-11-20", "20 Nov 2026", "20.11.2026", "Fri, 20th November 2026", "Nov 20, 2026", "3/4/2026",
        "13/4/2026",
        "3-4-2026", "4/4/2026", "2026/4/3", "31 Feb 2026", "30.2.2026", "20 Nov 26", "20 Nov", "2026",
        "20 Nov 2026 to 24 Nov 2026", "20 Nov until 24 Nov 2026", "20.11. - 24.11.2026", "20/11 till 24/11/2026",
        "1-3 Dec 2026", "1st to 3rd December 2026", "1.–3. Dec. 2026", "24 Nov 2026 to 20 Nov 2026",
        "20 Nov 2026 to 20 Nov 2026", "1 Dec 2026 to 2 Dec 2026 to 3 Dec 2026", "20 Nov Dec 2026", "20 20 Nov 2026",
        "32 Nov 2026", "20 11 2026", "tomorrow", "20 Nov 12026",
    ),
    Ask.LENGTH: (
        "", "180", "180 mm", "18 cm", "0.18 m", "7 in", "7 1/2", "7-1/2 in", '7"', "1200", "1201", "50", "49",
        "-180", "+180",
        "−180", "180 kg", "high", "1 ft", "47 1/4", "2",
    ),
    Ask.MASS: (
        "", "1450", "1450 kg", "1.45 t", "1.45 tonne", "3200 lb", "1450 kg from a weighbridge",
        "1450 kg by data sheet",
        "299", "300", "10001", "700", "1450 mm", "-1450",
    ),
    Ask.WEIGHT: (
        "", "48", "48 kg", "48 kg scales", "48 kg on a scale", "48 kg, wheel scales", "48 kg from the weighbridge",
        "48 kg weighed", "48 kg data sheet", "48 kg by data sheet", "48 kg sheet", "48 kg guess", "48 kg a guess",
        "48 kg GUESSED", "48 kg +- 6 kg", "48 +/- 6", "48 kg ± 10 %", "48 kg plus or minus 6", "48 kg scales +- 1 kg",
        "48 kg +- 48 kg", "48 kg +- 47 kg", "48 kg +- 0", "48 kg +- a bit", "2", "3", "1501", "106 lb scales", "0",
    ),
    Ask.LOAD: (
        "", "3.5 tonne", "3500 kg", "35 kN", "35000 N", "7700 lb", "3.5", "3500", "0.4 tonne", "21 tonne", "480",
        "3.5 m",
    ),
    Ask.MARK: (
        "", "3 tonne a pair", "3 tonne per pair", "3 tonne, for the pair", "3 tonne the pair", "1500 kg each",
        "1500 kg for one", "1.5 tonne", "3 tonne PAIR", "6600 lb a pair", "3", "40", "60 tonne", "a pair",
        "3 tonne both",
    ),
    Ask.SHARE: (
        "", "60", "60 %", "0.6", "60/40", "60 % / 40 %", "60:40", "60-40", "60/41", "60/.40.1", "59.995/40",
        "59.98/40",
        "850 kg", "1870 lb", "0.85 t", "400 kg", "29", "30", "80", "81", "60 kg front",
    ),
    Ask.ALONG: (
        "", "330 front", "330 ahead", "330 forward", "330 forwards", "330 behind", "330 back", "330 rear", "330 aft",
        "front 330", "330 FRONT", "330 in front", "330mm in front", "13 in in front", "16.5 inches front", "0", "0.0",
        "0 mm", "0 in", "00", "330", "330 left", "7000 behind", "240 front", "-330 front", "12,5 front", "front",
        "330 mm behind", "6000 front", "6001 front",
    ),
    Ask.ACROSS: ("", "330 left", "330 right", "Left 330", "0", "330", "330 front", "7000 left"),
    Ask.UP: (
        "", "330 above", "330 over", "330 up", "330 below", "330 under", "330 down", "under 330", "0", "330",
        "7000 below",
    ),
    Ask.SPAN: (
        "", "620 behind to 1980 behind", "620 to 1980 behind", "1980 behind to 620 behind", "620 - 1980 behind",
        "620–1980 behind", "620 behind", "620 to 1980", "100 front to 900 behind", "620 behind to 620 behind",
        "620 left to 1980 left", "620 behind to 7000 behind", "3000 front to 1 behind", "24 1/2 behind to 78 behind",
        "a to b", "0 to 900 behind",
    ),
    Ask.PLACE: (
        "", "330 front, 420 left, 60 below", "420 left, 60 below, 330 front", "330 front; 420 left; 60 below",
        "330 front 420 left 60 below", "330 front, 0, 60 below", "0, 0, 0", "330 front, 0", "330 front, 420 left",
        "330 front, 420 left, 60", "330 front, 300 front, 60 below", "330 front, 420 left, 60 below, 0",
        "330, 420, 60",
        "front 330, left 420, below 60", "12,5 front, 420 left, 60 below", "7000 front, 420 left, 60 below",
        "330 front, 420 left, 60 sideways", "here", ",,",
    ),
    Ask.BOX: (
        "", "330 front to 120 behind, 40 to 420 right, 610 to 35 above",
        "40 to 420 right; 610 to 35 above; 330 front to 120 behind",
        "120 behind to 330 front, 420 to 40 right, 35 to 610 above", "330 front to 120 behind, 40 to 420 right",
        "330 front to 120 behind", "330 front to 120 behind, 40 to 420 right, 610 to 35 above, 1 to 2 left",
        "330 front to 320 front, 40 to 420 right, 610 to 35 above",
        "340 front to 320 front, 40 to 420 right, 610 to 35 above",
        "341 front to 320 front, 40 to 420 right, 610 to 35 above",
        "330 front, 40 to 420 right, 610 to 35 above", "330 to 120, 40 to 420 right, 610 to 35 above",
        "7000 front to 120 behind, 40 to 420 right, 610 to 35 above",
        "450 left to 450 right, 330 front to 0, 170 above to 5 below",
        "8 left, 8 right",
    ),
    Ask.SEAT: (
        "", "gearbox, 330 front, 420 left, 60 below", "GEARBOX 330 front, 420 left, 60 below",
        "g: 330 front, 420 left, 60 below",
        "sub; 330 front, 420 left, 60 below", "330 front, 420 left, 60 below", "front 330, left 420, below 60",
        "pump, 330 front, 420 left, 60 below", "engine", "e, 0, 0, 0", "x, 330 front, 420 left, 60 below",
    ),
    Ask.TIE: (
        "", "mount, 150 behind, 200 right, 80 above", "Mount 150 behind 200 right 80 above",
        "150 behind, 200 right, 80 above",
        "link, 150 behind, 200 right, 80 above",
        "link: 100 behind, 30 left, 90 above to 240 behind, 30 left, 90 above",
        "100 behind, 30 left, 90 above to 240 behind, 30 left, 90 above",
        "mount, 100 behind, 30 left, 90 above to 240 behind, 30 left, 90 above", "mount, 150 behind", "link",
    ),
    Ask.HEIGHTS: (
        "", "290 to 430 step 20", "290 to 430 steps of 20", "290-430 step 20", "290–430 every 20",
        "290 - 430, in steps of 20",
        "29 to 43 cm step 2", "290 to 430 by 2 cm", "330 to 620", "350", "430 to 290", "290 to 290",
        "290 to 430 step 1",
        "290 to 430 step 2", "290 to 430 step 300", "290 to 430 step 301", "11-1/2 to 17 in step 3/4 in",
        "11 1/2 to 17 step 3/4",
        "11-1/2 to 17", "10 to 430", "290 to 4000", "low to high", "290 to 430 step big", "0.3 m to 600 mm",
    ),
    Ask.FOOT: (
        "", "200", "300 x 200", "300x200 mm", "30 x 20 cm", "300 × 200", "300*200", "300 by 200", "8 x 8 x 8",
        "8 by 12 in",
        "20", "4000", "300 x wide", "200 mm", "0.3 m x 200 mm",
    ),
    Ask.OWNED: (
        "", "8", "8 off", "8 of them", "8 pcs.", "8 pieces", "8x", "0", "51", "50", "S1 to S8", "S1-S8", "S1–8",
        "s1..S8",
        "S1 to T8", "S8 to S1", "1 to 4", "S1, S2, S5", "S1 S2", "S1, S1", "2 pair", "red", "red, blue",
        "yellow, blue", "S1 to S90",
        "A1,B2;C3", "S7",
    ),
    Ask.SHIMS: (
        "", "none", "no", "0", "12 mm wood 8, 6 mm steel 4", "12 wood", "12", "6 mm oak 3", "6 steel",
        "1/2 in wood 8",
        "6 mm straw 2", "wood 8", "0.5 mm steel", "400 mm wood 2", "12 mm WOOD 8; 3 mm Steel", "10",
    ),
    Ask.PARTS: (
        "", "nothing", "none", "no", "0", "gearbox", "2", "g", "e, cylinder head 28 kg", "cylinder head: 28 kg",
        "cylinder head = 28", "pump", "pump 0.4 kg", "pump 0.5 kg", "pump 400 kg", "pump 401 kg",
        "pump 5 kg, PUMP 6 kg",
        "gearbox, 2", "4", "28 kg", "pump 11 lb",
    ),
    Ask.USES: (
        "", "1", "stand", "jack, A = 1", "1, E F = 2", "1, E F 2", "1, e=jack; F = 2", "1, EF = 2", "1, = 2", "1, 2",
        "1, E = 9", "3, A 1", "1, 5 = 2", "4",
    ),
})  # fmt: skip
"""What is typed, by what is asked for."""
