"""The shop's records: every level check, journaled while it runs and sealed when it is finished.

:mod:`database` opens the SQLite file and keeps a second running check away from it;
:mod:`migrate` brings an older file up to date, after :mod:`backup` has copied it;
:mod:`journal` writes a running check down, tap by tap; :mod:`repository` finishes and loads
checks; :mod:`search` finds them again; :mod:`seal` says whether a finished one is still what it
was. Only the frozen dataclasses of :mod:`model` and the events of the procedure leave this room.

No wall clock is read here: every time of day is handed in, aware of its zone.
"""
