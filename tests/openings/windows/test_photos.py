"""R19, A21: twelve files that are not what they seem, and twelve right answers."""

from __future__ import annotations

import io
import re
import tracemalloc

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, ImageFile

from openings.models import WindowPhoto, WindowRecord
from projects.errors import BadValue
from projects.photos import clean_photo
from tests.openings.windows import pictures
from tests.openings.windows.building import came, key, opening
from tests.openings.windows.pictures import MEGABYTE, SCRIPT

pytestmark = pytest.mark.django_db
# the file, what it calls itself, the answer, and what the page says of it
REFUSED = {
    "a script that is a GIF": (pictures.polyglot, "crack.jpg", 422, "crack.jpg is no JPEG or PNG."),
    "a drawing with a script": (pictures.drawing, "crack.svg", 422, "crack.svg is no JPEG or PNG."),
    "a page": (lambda: b"<!doctype html>" + SCRIPT, "crack.jpg", 422, "crack.jpg is no JPEG or PNG."),
    "another kind of picture": (pictures.webp, "crack.jpg", 422, "crack.jpg is no JPEG or PNG."),
    "half a photo": (pictures.truncated, "half.jpg", 422, "half.jpg can't be read to its end."),
    "one pixel wide": (lambda: pictures.png(1, 50_000), "line.png", 422, "line.png is 1 x 50000 pixels."),
    "200 megapixels": (
        lambda: pictures.head_alone(20_000, 10_000),
        "huge.png",
        422,
        "huge.png has more than 40 megapixels.",
    ),
    "16 MB": (pictures.heavy, "heavy.jpg", 413, "heavy.jpg is larger than 15 MB."),
    "text that swells": (pictures.with_swollen_text, "text.png", 422, "text.png can't be read to its end."),
}
# files with a good picture in them, of which the picture alone is kept
CLEANED = {
    "a photo that tells its place": (pictures.with_place, "place.jpg", (240, 320)),
    "a photo with an archive behind it": (pictures.with_archive, "archive.jpg", (320, 240)),
    "a script's name, a see-through picture": (
        lambda: pictures.png(mode="RGBA"),
        '"><script>alert(1)</script>.png',
        (320, 240),
    ),
}


@pytest.fixture
def boss(client_of, foreman, house):
    came(foreman, house, "101")
    return client_of(foreman)


def send(boss, house, *files):
    entry = {
        "key": key(),
        "what": "the glass is cracked",
        "photos": [SimpleUploadedFile(name, content) for name, content in files],
    }
    return boss.post(f"/openings/{opening(house, '101').pk}/window/damage/", entry)


def kept(photo) -> Image.Image:
    return Image.open(io.BytesIO(bytes(photo.content)))


def test_there_are_twelve():
    assert len(REFUSED) + len(CLEANED) == 12


@pytest.fixture(params=[False, True], ids=["fresh", "after a PDF"])
def lenient(request, monkeypatch):
    """Leave the decoder as it is, or as the PDF library leaves it: taking half a picture for a whole one."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", request.param)
    yield
    assert request.param == ImageFile.LOAD_TRUNCATED_IMAGES


@pytest.mark.parametrize("case", REFUSED)
def test_what_is_no_photo_is_refused_in_plain_words(boss, house, case, lenient):
    make, name, status, told = REFUSED[case]

    answer = send(boss, house, (name, make()))

    assert answer.status_code == status
    page = answer.content.decode()
    assert told in page.replace("&#x27;", "'")
    assert 'value="the glass is cracked"' in page  # what was typed is still there
    assert not WindowPhoto.objects.exists()
    assert not WindowRecord.objects.filter(kind="damaged").exists()


@pytest.mark.parametrize("case", CLEANED)
def test_of_a_photo_the_picture_alone_is_kept(boss, house, case):
    make, name, size = CLEANED[case]

    answer = send(boss, house, (name, make()))

    assert answer.status_code == 302
    photo = WindowPhoto.objects.get()
    content = bytes(photo.content)
    assert content.startswith(b"\xff\xd8\xff")
    for trace in (b"Exif", b"GPS", b"Weidenkamera", b"PK\x03\x04", SCRIPT):
        assert trace not in content
    assert not kept(photo).getexif()
    assert kept(photo).size == (photo.width_px, photo.height_px) == size
    assert re.fullmatch(r"[0-9a-f]{32}\.jpg", photo.file_name)


def test_the_photo_with_its_place_does_tell_it_before(boss):
    """The negative control: what must be gone was there."""
    sent = pictures.with_place()

    assert all(trace in sent for trace in (b"Exif", b"Weidenkamera", SCRIPT))
    assert Image.open(io.BytesIO(sent)).getexif().get_ifd(pictures.GPS_TAG)


@pytest.mark.parametrize(
    "bomb",
    [pictures.with_swollen_rows, pictures.with_swollen_text, lambda: pictures.head_alone(20_000, 10_000)],
)
def test_no_file_swells_in_memory(bomb):
    sent = bomb()

    tracemalloc.start()
    try:
        clean_photo(sent, name="bomb.png")
    except BadValue:
        pass
    finally:
        _, most = tracemalloc.get_traced_memory()
        tracemalloc.stop()

    assert len(sent) < MEGABYTE
    assert most < 20 * MEGABYTE


def test_half_a_photo_is_whole_to_a_lenient_decoder(monkeypatch):
    """The negative control."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)

    Image.open(io.BytesIO(pictures.truncated())).load()


# 40,000,000 pixels are let in, one row more is not; 15 MB are let in, one byte more is not
@pytest.mark.parametrize(("height", "told"), [(5000, "read to its end"), (5001, "more than 40 megapixels")])
def test_the_limit_of_pixels_is_where_it_is_said(height, told):
    with pytest.raises(BadValue, match=told):
        clean_photo(pictures.head_alone(8000, height), name="edge.png")


@pytest.mark.parametrize(("extra", "status"), [(0, 302), (1, 413)])
def test_the_limit_of_bytes_is_where_it_is_said(boss, house, extra, status):
    content = pictures.jpeg().ljust(15 * MEGABYTE + extra, b"\x00")

    assert send(boss, house, ("edge.jpg", content)).status_code == status


@pytest.mark.parametrize("side", [49, 50])
def test_the_smallest_side_is_where_it_is_said(side):
    sent = pictures.png(side, 60)

    if side < 50:
        with pytest.raises(BadValue, match="49 x 60 pixels"):
            clean_photo(sent, name="small.png")
    else:
        assert clean_photo(sent, name="small.png").width == 50


def test_a_large_photo_is_kept_small(boss, house):
    send(boss, house, ("large.jpg", pictures.jpeg(5120, 2560)))

    # 5120 to 2560 is one half
    photo = WindowPhoto.objects.get()
    assert (photo.width_px, photo.height_px) == (2560, 1280)


def test_a_see_through_picture_lies_on_white(boss, house):
    out = io.BytesIO()
    Image.new("RGBA", (100, 100), (0, 0, 0, 0)).save(out, "PNG")

    send(boss, house, ("clear.png", out.getvalue()))

    assert kept(WindowPhoto.objects.get()).getpixel((50, 50)) == (255, 255, 255)


def test_one_bad_photo_stops_all(boss, house):
    answer = send(boss, house, ("good.jpg", pictures.jpeg()), ("bad.svg", pictures.drawing()))

    assert answer.status_code == 422
    assert not WindowPhoto.objects.exists()


def test_a_photo_is_handed_out_as_a_file_that_nothing_runs(boss, house):
    send(boss, house, ("crack.png", pictures.png()))
    photo = WindowPhoto.objects.get()

    answer = boss.get(f"/windows/photos/{photo.pk}/")

    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Disposition"] == f'attachment; filename="{photo.file_name}"'
    assert answer["Cache-Control"].startswith("private")
    # opened by itself it belongs to no origin of ours, and no script may run in it
    assert "sandbox" in answer["Content-Security-Policy"].split("; ")
    assert answer.content == bytes(photo.content)


def test_a_photo_of_another_company_is_not_there(boss, house, client_of, stranger):
    send(boss, house, ("crack.png", pictures.png()))

    answer = client_of(stranger).get(f"/windows/photos/{WindowPhoto.objects.get().pk}/")

    assert answer.status_code == 404


def test_a_body_above_all_limits_is_refused_before_it_is_read(boss, house):
    answer = send(boss, house, *[(f"{n}.jpg", pictures.jpeg().ljust(14 * MEGABYTE, b"\x00")) for n in (1, 2)])

    assert answer.status_code == 413
