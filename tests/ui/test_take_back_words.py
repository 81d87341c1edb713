"""From four metres it is said which answer may be taken back; the time only where there is room."""

from __future__ import annotations

import pytest
from check_play import Play

from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.events import Item
from brimline.ui.screens.check.far_words import LINE, undo
from brimline.wording import ITEMS


@pytest.mark.parametrize("item", gates.START_ITEMS)
def test_an_item_is_named(item: Item) -> None:
    said = undo(Play().identified().confirm(item).state, "Page Up")
    assert said.startswith(f"Page Up takes back: {ITEMS[item]}")
    assert len(said) <= LINE or said.endswith(ITEMS[item])


def test_the_name_comes_before_the_time() -> None:
    play = Play().identified().confirm(Item.WHEELS_CHOCKED)
    assert undo(play.state, "Page Up") == "Page Up takes back: wheels chocked"
    play.confirm(Item.CHECK_PLUG_IDENTIFIED)
    assert undo(play.state, "Page Up") == ("Page Up takes back: check plug found, not a drain plug")
    play = Play().ready().plug_out()
    assert undo(play.state, "Page Up") == "Page Up takes back: plug out, 30 s"


def test_where_nothing_may_be_taken_back_nothing_is_said() -> None:
    play = Play().ready().plug_out()
    play.taken(ev.CheckAborted(t=play.t, reason="enough", plug_left_out=True))
    assert undo(play.state, "Page Up") == ""
