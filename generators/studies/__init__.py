"""Simulations with no closed form: strokes that overlap, a year of weather, drift. Plain numbers in, plain numbers out."""
