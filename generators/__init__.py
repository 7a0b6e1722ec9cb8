"""The Sprayer's Almanac: facts → formulas → tables → pages, card, answers."""
