"""The level check as a pure function: ``(state, event) → (state, effects)``.

No clock, no thread, no file: time is a field of every event. :mod:`events` are what happened,
:mod:`state` is what follows from them, :mod:`gates` say why a step may not be taken yet, and
:mod:`reducer` is the only way from one state to the next.
"""

VERSION = 6
"""Version of the procedure's rules; a record keeps the one it was made with.

6: what ran off is asked anew for every opening of the plug that follows an answer, may be answered
after a stop without an amount, and only by what was not seen to be otherwise; acknowledging stands
in no way of taking back.
5: the latest tap may be taken back, alarms are acknowledged, and so are the cautions before the
lift goes up, the plug comes out and the pump starts.
4: an infrared gun casts doubt on the sensor where no surface explains its reading, and only there.
Jitter at an edge of the target band or of the idle window changes neither gate nor alarm.
"""
