"""Two sounds of our own: one for an alarm, one for everything else. Made here, not recorded.

What a sound must be so that it is heard as a danger signal stands in ISO 7731, of which we recall
(from memory) energy between 500 and 2,500 Hz and a pitch that changes. The notes are our choice.
"""

from __future__ import annotations

import io
import wave
from enum import StrEnum

import numpy as np

RATE_HZ = 44_100
_FADE_S = 0.008  # a note that begins or ends at once clicks
_LOUDEST = 0.8  # of what 16 bits hold, so that no device has to clip


class Tone(StrEnum):
    """Which sound."""

    ALARM = "alarm"
    PROMPT = "prompt"


_HIGH, _LOW, _PAUSE = 1480.0, 1109.0, 0.0

NOTES: dict[Tone, tuple[tuple[float, float], ...]] = {
    Tone.ALARM: 3 * ((_HIGH, 0.12), (_LOW, 0.12), (_PAUSE, 0.06)),
    Tone.PROMPT: ((587.0, 0.14), (784.0, 0.26)),
}
"""Each sound as its notes: pitch in Hz, 0 for a pause, and length in s."""


def length_s(tone: Tone) -> float:
    """Return how long a sound lasts, in s."""
    return sum(seconds for _, seconds in NOTES[tone])


def wav(tone: Tone) -> bytes:
    """Return a sound as the content of a WAV file: 16 bits, one channel, :data:`RATE_HZ`."""
    samples = np.concatenate([_note(hertz, seconds) for hertz, seconds in NOTES[tone]])
    content = io.BytesIO()
    with wave.open(content, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE_HZ)
        file.writeframes((samples * _LOUDEST * 32767).astype("<i2").tobytes())
    return content.getvalue()


def _note(hertz: float, seconds: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    t = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    # The octave makes a pure tone easier to place; the two together stay within one.
    sung = 0.75 * np.sin(2 * np.pi * hertz * t) + 0.25 * np.sin(4 * np.pi * hertz * t)
    fade = np.minimum(1.0, np.minimum(t, seconds - t) / _FADE_S)
    return np.asarray(sung * fade)
