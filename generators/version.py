"""The edition of the program and of the stock pages that come with it."""

NUMBER = "0.2.0"
