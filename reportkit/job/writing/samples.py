"""The invented samples that a new job starts with: by units, and by the kind of job."""

from __future__ import annotations

from typing import Literal, get_args

Kind = Literal["home", "shop", "office", "own-home"]
KINDS: tuple[Kind, ...] = get_args(Kind)
#: Kinds in which nobody offers and nobody accepts: without business and quote.
OWN: tuple[Kind, ...] = ("own-home",)

#: What differs between a starter in feet and inches and one in millimetres; every amount is invented.
UNITS: dict[str, dict[str, str]] = {
    "us": {
        "currency": "USD",
        "locale": "en_US",
        "paper": "letter",
        "rating": "nfrc",
        "latitude": "26",
        "longitude": "-80",
        "clock": "America/New_York",
        "weather": "  use: shipped\n  name: miami",
        "lite": "3",
        "roll": "60 in",
        "roll_length": "100 ft",
        "by_length": "price_per_ft: 8.60",
        "step": "1 ft",
        "edge_gap": "1/16 in",
        "trim": "1/2 in",
        "table": "8 ft",
        "offcut": "16 in, 24 in",
        "floor": "260 ft2",
        "ceiling": "8 ft",
        "walls": "190 ft2",
        "too_hot": "79 F",
        "opened": "72 F",
        "fan": "180 cfm",
        "cool": "76 F",
        "warm": "68 F",
        "setback": "62 F",
        "capacity": "12000 Btu/h",
        "awning": "4 ft",
        "largest": "27 ft2",
        "electricity": "0.15",
        "gas": "1.30",
        "gas_unit": "therm",
        "gas_kwh": "29.3",
        "tax": "Sales tax",
        "tax_percent": "7",
        "bare": "inches: 35 5/8, 35.5; or 905 mm",
        "first": "35 5/8,35 5/8,35 11/16,54 1/2,54 1/2,54 1/2,65 1/8,65 1/8",
        "second": "26 3/4,26 3/4,,75 1/4,75 1/4,,79 7/8,",
    },
    "metric": {
        "currency": "EUR",
        "locale": "en_IE",
        "paper": "a4",
        "rating": "en",
        "latitude": "26",
        "longitude": "-80",
        "clock": "America/New_York",
        "weather": "  use: shipped\n  name: miami",
        "lite": "4",
        "roll": "1524 mm",
        "roll_length": "30.5 m",
        "by_length": "price_per_m: 28.00",
        "step": "0.5 m",
        "edge_gap": "1.5 mm",
        "trim": "12 mm",
        "table": "2440 mm",
        "offcut": "400 mm, 600 mm",
        "floor": "24 m2",
        "ceiling": "2500 mm",
        "walls": "18 m2",
        "too_hot": "26 C",
        "opened": "22 C",
        "fan": "300 m3/h",
        "cool": "25 C",
        "warm": "20 C",
        "setback": "16 C",
        "capacity": "3500 W",
        "awning": "1.2 m",
        "largest": "2.5 m2",
        "electricity": "0.30",
        "gas": "1.15",
        "gas_unit": "m3",
        "gas_kwh": "10.6",
        "tax": "VAT",
        "tax_percent": "20",
        "bare": "millimetres: 905; or 90.5 cm, 35 5/8 in",
        "first": "905,905,906,1385,1385,1385,1655,1655",
        "second": "680,680,,1910,1910,,2027,",
    },
}

#: What differs between the kinds of job; ``lites`` is the short starter's glass.
SAMPLES: dict[Kind, dict[str, str]] = {
    "home": {
        "title": "Windows of the front room",
        "complaint": "From two until six the front room is too hot to sit in.",
        "kinds": "[heat, glare]",
        "room": "front",
        "room_name": "Front room",
        "use": "home",
        "hours": "[7, 23]",
        "face": "west",
        "face_name": "Evening side",
        "bearing": "265",
        "glass": "double",
    },
    "shop": {
        "title": "Windows of the shop",
        "complaint": "By noon the sun stands on the counter, and what lies in the window fades.",
        "kinds": "[heat, fading]",
        "room": "shop",
        "room_name": "Shop",
        "use": "shop",
        "hours": "[9, 19]",
        "face": "south",
        "face_name": "Street side",
        "bearing": "180",
        "glass": "plate",
    },
    "office": {
        "title": "Windows beside the desk",
        "complaint": "From eight until ten the sun glares across the desk and nobody can read the screen.",
        "kinds": "[glare, heat]",
        "room": "study",
        "room_name": "Study",
        "use": "office",
        "hours": "[7, 18]",
        "face": "east",
        "face_name": "Morning side",
        "bearing": "85",
        "glass": "double",
    },
    "own-home": {
        "title": "Our bedroom windows",
        "complaint": "By nine in the morning the bedroom is too warm and far too bright.",
        "kinds": "[heat, glare]",
        "room": "bedroom",
        "room_name": "Bedroom",
        "use": "home",
        "hours": "[20, 9]",
        "face": "east",
        "face_name": "Morning side",
        "bearing": "95",
        "glass": "double",
    },
}
#: The sheets of the short starter's glass.
LITES = {
    "double": """      - thickness_mm: $lite          # how thick is each sheet, outside first?
        strength: annealed         # annealed, tempered, laminated, wired, patterned?
      - thickness_mm: $lite
    gaps: [{width_mm: 12}]         # how wide is the space between two sheets? none for single glass
""",
    "plate": """      - thickness_mm: 6            # how thick is each sheet, outside first?
        strength: annealed         # annealed, tempered, laminated, wired, patterned?
""",
}
