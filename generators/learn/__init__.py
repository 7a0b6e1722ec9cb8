"""What a crew's own records say: read out of phones, fitted with their spread, shown before and after, and written into site_data.

`records` reads the file that a phone gives; `series` finds the measurements in it; `fit` fits them, or says why it will not;
`change` writes a fit into a file of facts, comments kept; `pictures` draws each fit.
"""
