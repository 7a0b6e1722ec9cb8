"""What each test of each verdict is for, written by hand from its sheet, limit or law: where it speaks, and with what; where, one reading changed, it is silent.

A line is: verdict, test, outcome | readings where it speaks | readings where it is silent | readings past its limit where it is not for that case.
Readings change BASE, a good day outdoors with a water paint (8 to 30 °C, to 80 %), or GLOSS, a solvent paint (7 to 30 °C), or EPOXY, a two-pack (12 to 30 °C, to 75 %).
Limits are those that site_data/limits.yaml names with their sources: 3 °C over the dew point, 4 m/s of wind (2 near cars), 10 % of the lower explosive limit,
film 65 % even at its thinnest, three times as slow. Readings stand well past them or well within: where exactly a limit lies, other tests ask.
"""

from __future__ import annotations

GOOD = ("kit=five-stage-trolley air-temperature=18 relative-humidity=55 surface-temperature=18 place=outdoors wind=1 gust=1.5 rain-at=none night-low=12 "
        "moisture=12 ground=wood people-out=yes flames-out=yes old-finish=sound lead=no asbestos=no building-year=2015 instruments=exact")
BASES = {"BASE": f"coating=gannet-trim-satin {GOOD}", "GLOSS": f"coating=anchor-alkyd-gloss {GOOD}", "EPOXY": f"coating=keel-two-pack-epoxy {GOOD}"}
ROOM, AIRED = "place=room room-volume=30 air-changes=1", "place=room room-volume=150 air-changes=30 pot-litres=0.2"
TOTE, TIMED = "kit=two-stage-tote cup=ford-4", "cup=ford-4 dose=0%:62s dose=4%:50s pot-litres=1"
OVER_LAW, IN_LAW = f"{TOTE} dose=0%:74s dose=2%:64s pot-litres=1 thinner-wanted=4", "cup=ford-4 dose=0%:74s dose=0.5%:70s pot-litres=1 thinner-wanted=0.5"
TEN = "now=2026-11-26T10:00"
MIXED = f"{TEN} batch-litres=1 paint-temperature=20"

CASES = f"""
allowed isocyanate-tin stop | coating=spar-two-pack-finish | coating=gannet-trim-satin |
allowed isocyanate-read stop | EPOXY hardener=isocyanate | EPOXY hardener=amine |
allowed hard-stop stop | coating=spar-two-pack-finish | coating=gannet-trim-satin |
spray lead-found stop | lead=yes | lead=no | lead=yes old-finish=none
spray lead-untested stop | lead=not-tested building-year=1950 | lead=not-tested building-year=2015 | lead=no building-year=1950
spray asbestos-found stop | asbestos=yes | asbestos=no |
spray asbestos-untested stop | asbestos=not-tested building-year=1960 | asbestos=not-tested building-year=2015 | asbestos=no building-year=1960
spray people stop | people-out=no | people-out=yes |
spray flames stop | GLOSS flames-out=no | GLOSS flames-out=yes | flames-out=no
spray flames-water care | flames-out=no | flames-out=yes | GLOSS flames-out=no
spray vapour stop | GLOSS {ROOM} pot-litres=2 | GLOSS {AIRED} | {ROOM} pot-litres=2
spray dew stop | surface-temperature=10 | surface-temperature=18 |
spray surface-cold stop | surface-temperature=6 | surface-temperature=9 |
spray surface-hot stop | surface-temperature=60 | surface-temperature=31 |
spray air-cold stop | air-temperature=6 | air-temperature=9 |
spray air-hot stop | air-temperature=33 | air-temperature=29 |
spray damp stop | relative-humidity=84 | relative-humidity=78 |
spray wind stop | wind=5 gust=5 | wind=3 | place=workshop wind=5 gust=5
spray gust stop | gust=5 | gust=3 | place=workshop gust=5
spray rain stop | {TEN} rain-at=2026-11-26T10:30 | {TEN} rain-at=none | place=workshop {TEN} rain-at=2026-11-26T10:30
spray night stop | night-low=2 | night-low=12 | place=workshop night-low=2
spray wet-wood stop | moisture=30 | moisture=12 | ground=masonry moisture=30
spray asbestos-guess care | asbestos=not-tested | asbestos=no | asbestos=not-tested old-finish=none
spray flaking stop | old-finish=flaking | old-finish=sound |
spray unsure-finish care | old-finish=not-sure | old-finish=sound |
spray margin care | surface-temperature=13 | surface-temperature=16 |
spray surface-warm care | surface-temperature=33 | surface-temperature=29 |
spray slow care | air-temperature=9 relative-humidity=79 surface-temperature=12 | air-temperature=20 | GLOSS air-temperature=9 relative-humidity=79 surface-temperature=12
spray air-edge-cold care | air-temperature=8.5 | air-temperature=18 |
spray air-edge-hot care | air-temperature=29.5 | air-temperature=18 |
spray wind-near care | wind=3 | wind=1 | place=workshop wind=3
spray night-cold care | night-low=6 | night-low=12 | place=workshop night-low=6
spray damp-wood care | moisture=17 | moisture=12 | ground=masonry moisture=17
surface-room air-cold stop | air-temperature=6 | air-temperature=9 |
surface-room air-hot stop | air-temperature=33 | air-temperature=29 |
surface-room damp stop | relative-humidity=84 | relative-humidity=78 |
surface-room over-air stop | relative-humidity=95 | relative-humidity=55 |
surface-room air-edge-hot care | air-temperature=29.5 | air-temperature=18 |
air-surface dew stop | surface-temperature=10 | surface-temperature=18 |
air-surface surface-cold stop | surface-temperature=6 | surface-temperature=9 |
air-surface surface-hot stop | surface-temperature=60 | surface-temperature=31 |
air-surface air-cold stop | air-temperature=6 | air-temperature=9 |
air-surface air-hot stop | air-temperature=33 | air-temperature=29 |
air-surface damp stop | relative-humidity=84 | relative-humidity=78 |
air-surface margin care | surface-temperature=13 | surface-temperature=16 |
air-surface surface-warm care | surface-temperature=33 | surface-temperature=29 |
air-surface slow care | air-temperature=9 relative-humidity=79 surface-temperature=12 | air-temperature=20 | GLOSS air-temperature=9 relative-humidity=79 surface-temperature=12
air-surface air-edge-cold care | air-temperature=8.5 | air-temperature=18 |
air-surface air-edge-hot care | air-temperature=29.5 | air-temperature=18 |
pot past-label stop | cup=ford-4 dose=0%:62s dose=12%:40s pot-litres=1 | {TIMED} |
pot not-this-kit stop | kit=two-stage-tote pot-litres=1 cup=ford-4 dose=0%:90s dose=5%:75s | pot-litres=1 |
pot too-thin care | {TOTE} dose=0%:40s dose=8%:20.5s pot-litres=1 | {TIMED} | {TOTE} cup-time=21s pot-litres=1
pot too-thick care | {TOTE} dose=0%:40s dose=3%:34s pot-litres=1 | cup=ford-4 dose=0%:40s dose=8%:26s kit=two-stage-tote pot-litres=1 |
pot not-timed care | pot-litres=1 | {TIMED} |
pot cup-refused care | coating=heron-opaque-stain pot-litres=1 | pot-litres=1 |
dose thick-still care | {TOTE} dose=0%:90s dose=5%:75s pot-litres=1 | pot-litres=1 |
after-dose sheet-only care | pot-litres=1 | {TIMED} |
put-back past-label stop | cup=ford-4 dose=0%:62s dose=12%:40s pot-litres=1 | {TIMED} |
mix-warmth cold-mix stop | EPOXY paint-temperature=9 | EPOXY paint-temperature=20 |
mix-warmth hot-mix stop | EPOXY paint-temperature=33 | EPOXY paint-temperature=20 |
distance near care | distance=100 | distance=200 |
distance far care | distance=300 | distance=200 |
evenness stripes stop | distance=200 step=230 | distance=200 step=80 |
evenness low-light care | distance=200 step=140 | distance=200 step=80 |
speed stripes stop | distance=200 step=230 | distance=200 step=80 |
speed race care | distance=200 step=20 flow=400 | distance=200 step=100 flow=150 |
next-coat touch stop | touch-test=fails | touch-test=passes |
next-coat cold-dry stop | air-temperature=6 | air-temperature=9 |
next-coat damp-dry stop | relative-humidity=84 | relative-humidity=78 |
next-coat slow-dry care | air-temperature=9 relative-humidity=79 | air-temperature=20 | GLOSS air-temperature=9 relative-humidity=79
drying cold stop | air-temperature=6 | air-temperature=9 |
drying hot stop | air-temperature=33 | air-temperature=29 |
drying damp stop | relative-humidity=84 | relative-humidity=78 | GLOSS relative-humidity=84
drying much-slower stop | air-temperature=9 relative-humidity=79 | air-temperature=20 | GLOSS air-temperature=9 relative-humidity=79
drying slow care | air-temperature=10 relative-humidity=70 | air-temperature=23 relative-humidity=50 |
room-air burns stop | GLOSS {ROOM} pot-litres=2 | GLOSS {AIRED} | {ROOM} pot-litres=4
room-air burns-water care | {ROOM} pot-litres=4 | {AIRED} | GLOSS {ROOM} pot-litres=2
room-air breathe care | {AIRED} | |
drift near care | place=outdoors | place=workshop |
drift travels stop | wind=4 | wind=0.05 | place=workshop wind=4
mask no-mask stop | place=room room-volume=10 air-changes=0.5 flow=400 pot-litres=2 | place=room room-volume=150 air-changes=30 pot-litres=1 | room-volume=10 air-changes=0.5 flow=400 pot-litres=2
mask half-mask care | place=room room-volume=150 air-changes=0.5 flow=400 pot-litres=2 | place=room room-volume=150 air-changes=30 pot-litres=1 | room-volume=150 air-changes=0.5 flow=400 pot-litres=2
pot past-law stop | GLOSS {OVER_LAW} | GLOSS {IN_LAW} | {OVER_LAW}
pot not-by-law stop | GLOSS {TOTE} dose=0%:74s dose=2%:64s pot-litres=1 | GLOSS cup=ford-4 dose=0%:50s dose=0.5%:48s pot-litres=1 |
after-dose past-law stop | GLOSS {OVER_LAW} | GLOSS {IN_LAW} | {OVER_LAW}
put-back past-law stop | GLOSS {TOTE} dose=0%:74s dose=4%:54s pot-litres=1 | GLOSS cup=ford-4 dose=0%:74s dose=0.5%:70s pot-litres=1 |
surface-room near-air care | relative-humidity=79 instruments=usual | relative-humidity=55 |
next-coat too-early care | {TEN} last-coat-at=2026-11-26T09:00 | {TEN} last-coat-at=2026-11-25T09:00 |
next-coat too-late stop | EPOXY {TEN} last-coat-at=2026-11-20T10:00 | EPOXY {TEN} last-coat-at=2026-11-25T10:00 | {TEN} last-coat-at=2026-11-20T10:00
pot-life set stop | EPOXY {MIXED} mixed-at=2026-11-25T10:00 | EPOXY {MIXED} mixed-at=2026-11-26T09:00 | {MIXED} mixed-at=2026-11-25T10:00
pot-life standing stop | EPOXY {MIXED} mixed-at=2026-11-26T09:50 | EPOXY {MIXED} mixed-at=2026-11-26T09:30 | {MIXED} mixed-at=2026-11-26T09:50
after-dose past-label stop | {TOTE} dose=0%:62s dose=5%:45s pot-litres=1 thinner-wanted=12 | {TIMED} |
pot asked-past-label stop | {TOTE} dose=0%:62s dose=5%:45s pot-litres=1 thinner-wanted=12 | cup=ford-4 dose=0%:62s dose=5%:45s pot-litres=1 thinner-wanted=8 |
pot perhaps-not care | {TOTE} dose=0%:62s dose=5%:43s pot-litres=1 instruments=usual | {TIMED} |
pot thin-as-supplied care | {TOTE} cup-time=21s pot-litres=1 | cup=ford-4 cup-time=40s pot-litres=1 | {TOTE} dose=0%:40s dose=8%:20.5s pot-litres=1
put-back too-thin care | {TOTE} dose=0%:40s dose=8%:20.5s pot-litres=1 | {TIMED} | {TOTE} cup-time=21s pot-litres=1
after-dose still-thick care | {TOTE} dose=0%:62s dose=5%:45s pot-litres=1 thinner-wanted=6 | {TIMED} |
"""


def cases() -> list[tuple[str, str, str, str, str, str]]:
    """(verdict, test, outcome, where it speaks, where it is silent, where it is not asked) of every line, each as readings on its base."""
    found = []
    for line in CASES.strip().splitlines():
        head, *places = (part.strip() for part in line.split("|"))
        verdict, test, outcome = head.split()
        found.append((verdict, test, outcome, *(on_base(place) if place else "" for place in places)))
    return found  # type: ignore[return-value]


def on_base(words: str) -> str:
    """Readings put over their base: what is named again takes the place of the base's own."""
    base, pairs = "BASE", words.split()
    if pairs and pairs[0] in BASES:
        base, *pairs = pairs
    named = {pair.partition("=")[0] for pair in pairs}
    return " ".join([*(pair for pair in BASES[base].split() if pair.partition("=")[0] not in named), *pairs])
