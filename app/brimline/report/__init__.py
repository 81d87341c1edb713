"""The customer's work summary as a PDF: what is said apart from how it is drawn.

:mod:`content` turns a finished record into plain strings and chart data (:mod:`summary`);
:mod:`layout` and :mod:`chart` draw them; :mod:`writer` puts the file in its place. reportlab is
imported in this room alone.
"""
