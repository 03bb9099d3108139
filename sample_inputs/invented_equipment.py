"""Invented equipment and shops, which several aircraft want at once."""

EQUIPMENT = [
    ("Equipment", "Number"),
    ("Jack set", 2),
    ("Tail dock", 2),
    ("Tank ventilation set", 2),
    ("Rescue kit", 2),
]

OUTAGES = [
    ("Equipment", "From", "To", "Number", "Reason"),
    ("Jack set", "2027-02-08", "2027-02-21", 1, "load test of the jacks"),
    ("Tail dock", "2027-03-01", "2027-03-12", 1, "guard rails renewed"),
    ("Tank ventilation set", "2027-01-25", "2027-02-05", 1, "gas detectors calibrated"),
]

SHOPS = [
    ("Shop", "Items per day"),
    ("Seat shop", 1),
    ("Propeller shop", 0.2),
]

# Fourteen premium seats leave with the others and are back when all go in again. Two propellers
# come off with the cowlings; the shop takes five days over one.
LOOPS = [
    ("Package", "Shop", "Items", "Leave at", "Back for"),
    ("Twin-aisle premium cabin refit", "Seat shop", 14, "Seats out", "Seats in"),
    ("Regional C-check", "Propeller shop", 2, "Opening up", "Closing up"),
    ("Regional structural check", "Propeller shop", 2, "Opening up", "Closing up"),
]
