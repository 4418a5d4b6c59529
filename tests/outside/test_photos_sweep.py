"""Photos that nothing names are swept after a day; those that a row names stay."""

from datetime import UTC, datetime, timedelta

from server.core.changes.holds import AddPhoto
from server.outside import photos
from server.outside.photos_sweep import sweep_orphans
from tests.pages.at_the_wall import Wall, photo
from tests.pages.conftest import wall as wall
from tests.worlds import PROJECT, actor

LATER = datetime.now(UTC) + timedelta(days=2)


def test_a_photo_that_nothing_names_goes_after_a_day_and_a_named_one_stays(wall: Wall) -> None:
    folder = wall.settings.data_dir
    kept = photos.save(photo("tan"), folder)
    orphan = photos.save(photo("navy"), folder)
    wall.store.apply(
        actor(wall.snapshot()),
        PROJECT,
        AddPhoto(id="kept", hold_id="height-check", sha256=kept.sha256, width=40, height=30),
    )
    assert [p.sha256 for p in wall.snapshot().photos.values()] == [kept.sha256]
    assert sweep_orphans(wall.store, folder, datetime.now(UTC)) == ()
    assert sweep_orphans(wall.store, folder, LATER) != ()
    assert photos.path_of(folder, kept.sha256).exists()
    assert not photos.path_of(folder, orphan.sha256).exists()
