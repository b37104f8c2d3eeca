"""What is cut to what was measured in a dry fit is told alike on the sheet map, the card and the settings list."""

from storystick.paper.blocks import Large
from storystick.paper.pages.settings import at_once
from storystick.paper.pages.sheets import cut_row
from storystick.paper.remarks import provisional, remarks
from tests.paper.test_samples import folder_of


def test_a_cut_to_fit_has_its_step_for_a_size_and_no_setting_of_its_own():
    folder = folder_of("drawer-tower")
    assert folder.fitted_in
    for cutting in folder.cuttings:
        settings = {number for setting in at_once(folder, cutting) for number in setting.cuts}
        for tree in cutting.layout.trees:
            for cut in tree.cuts:
                step = folder.fitted_in.get((cutting.stock.name, cut.number))
                told = cut_row(cut, tree, folder.letter_of, folder.build.manner, step)[2]
                if step is not None:
                    assert told == f"{cut.way}: step {step}"
                    assert cut.number not in settings
                elif cut.setting is not None:
                    assert isinstance(told, Large)
                    assert cut.number in settings


def test_the_card_of_such_a_part_names_each_step_that_cuts_it():
    folder = folder_of("drawer-tower")
    for name, steps in folder.fitted_by.items():
        part = folder.build.part(name)
        words = provisional(folder, part) or " ".join(remarks(folder, part.letter, [part]))
        assert "map keeps" in words
        assert all(str(step) in words for step in steps)
