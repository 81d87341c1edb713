"""The shop's records: every level check, journaled while it runs and sealed when it is finished.

:mod:`database` opens the SQLite file and keeps a second running check away from it;
:mod:`migrate` brings an older file up to date, after :mod:`backup` has copied it;
:mod:`journal` writes a running check down, tap by tap; :mod:`repository` finishes and loads
checks, and :mod:`traces` packs the readings of a finished one; :mod:`search` finds them again;
:mod:`seal` chains each to the one before, :mod:`amendments` corrects one without changing it, and
:mod:`chain` says whether all are still what they were. Only the frozen dataclasses of :mod:`model`
and the events of the procedure leave this room.

:mod:`copies` makes backups in a folder and :mod:`retention` says which of them stay; :mod:`found`
lists whatever can be restored, :mod:`soundness` looks whether it is sound, and :mod:`recovery` puts
it in the place of a database that is damaged or gone.

No wall clock is read here: every time of day is handed in, aware of its zone.
"""
