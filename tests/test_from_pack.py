"""Packs that came back: the spec attached to them is used again, and their parts are held against it."""

from __future__ import annotations

import base64
import io
import re
import tracemalloc
import zlib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest
from PIL import Image
from pypdf import PdfReader, PdfWriter
from reportlab import rl_config
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from bookplates import attached_spec, make_pack, measure_pdf
from bookplates.errors import BadFile, BadSpec, Disagreement
from bookplates.pipeline import Wanted, verify
from bookplates.readback import about, attached
from bookplates.spec import MOST_BYTES
from books import LIGHTHOUSE
from commands import MINIMAL, bookplates, names_in
from raw_pdf import saved

SPEC = MINIMAL + "# plums, pears ½\r\n".encode()


@cache
def pack(spec: bytes = SPEC) -> bytes:
    return make_pack(spec).pdf


def by_pikepdf(data: bytes, **options: Any) -> bytes:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as document:
        document.save(out, **options)
    return out.getvalue()


def by_pypdf(data: bytes) -> bytes:
    out = io.BytesIO()
    PdfWriter(clone_from=PdfReader(io.BytesIO(data))).write(out)
    return out.getvalue()


def by_pypdf_squeezed(data: bytes) -> bytes:
    writer, out = PdfWriter(clone_from=PdfReader(io.BytesIO(data))), io.BytesIO()
    for page in writer.pages:
        page.compress_content_streams()
    writer.compress_identical_objects()
    writer.write(out)
    return out.getvalue()


def by_pdfium(data: bytes) -> bytes:
    document, out = pypdfium2.PdfDocument(data), io.BytesIO()
    document.save(out)
    return out.getvalue()


def refiltered(data: bytes, encode: Callable[[bytes], bytes], *filters: str) -> bytes:
    """Every page's content and the attached spec written with other filters, by hand."""
    document = pikepdf.open(io.BytesIO(data))
    names = pikepdf.Array([pikepdf.Name(f"/{name}") for name in filters])
    streams = [page.obj.Contents for page in document.pages] + [embedded(document)]
    for stream in streams:
        stream.write(encode(stream.read_bytes()), filter=names)
    return saved(document)


def embedded(document: pikepdf.Pdf) -> Any:
    return document.Root.Names.EmbeddedFiles.Names[1].EF.F


def run_length(data: bytes) -> bytes:
    """RunLength of ISO 32000-1, 7.4.5, with literal runs alone: a count less one, the bytes, and 128 at the end."""
    runs = (data[at : at + 128] for at in range(0, len(data), 128))
    return b"".join(bytes([len(run) - 1]) + run for run in runs) + b"\x80"


def lzw(data: bytes) -> bytes:
    """LZW of ISO 32000-1, 7.4.4, its table cleared so often that every code has nine bits: 256 clears, 257 ends."""
    codes = [code for at in range(0, len(data), 200) for code in (256, *data[at : at + 200])] + [257]
    bits = "".join(f"{code:09b}" for code in codes)
    bits += "0" * (-len(bits) % 8)
    return int(bits, 2).to_bytes(len(bits) // 8, "big")


def hexadecimal(data: bytes) -> bytes:
    return data.hex().encode() + b">"


def ascii85(data: bytes) -> bytes:
    return base64.a85encode(data, wrapcol=72) + b"~>"


RESAVED: dict[str, Callable[[bytes], bytes]] = {
    "object streams": lambda data: by_pikepdf(data, object_stream_mode=pikepdf.ObjectStreamMode.generate),
    "no object streams": lambda data: by_pikepdf(data, object_stream_mode=pikepdf.ObjectStreamMode.disable),
    "uncompressed": lambda data: by_pikepdf(data, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.all),
    "recompressed": lambda data: by_pikepdf(data, recompress_flate=True, stream_decode_level=pikepdf.StreamDecodeLevel.all),
    "normalised": lambda data: by_pikepdf(data, normalize_content=True),
    "linearised": lambda data: by_pikepdf(data, linearize=True),
    "qdf": lambda data: by_pikepdf(data, qdf=True),
    "pypdf": by_pypdf,
    "pypdf, squeezed": by_pypdf_squeezed,
    "pdfium": by_pdfium,
    "one after the other": lambda data: by_pikepdf(by_pypdf(by_pdfium(data)), linearize=True),
    "ASCII85": lambda data: refiltered(data, ascii85, "ASCII85Decode"),
    "ASCII85 of Flate": lambda data: refiltered(data, lambda text: ascii85(zlib.compress(text)), "ASCII85Decode", "FlateDecode"),
    "hexadecimal": lambda data: refiltered(data, hexadecimal, "ASCIIHexDecode"),
    "LZW": lambda data: refiltered(data, lzw, "LZWDecode"),
    "run length": lambda data: refiltered(data, run_length, "RunLengthDecode"),
    "junk before": lambda data: b"Subject: your book\r\n\r\n" + data,
}


@pytest.mark.parametrize("way", RESAVED)
class TestResaved:
    def test_the_spec_is_the_same_byte_for_byte(self, way: str) -> None:
        assert attached_spec(RESAVED[way](pack())) == SPEC

    def test_the_parts_are_the_same(self, way: str) -> None:
        before, after = measure_pdf(pack()), measure_pdf(RESAVED[way](pack()))
        assert (after.pages, len(after.parts)) == (before.pages, len(before.parts))
        for was, is_ in zip(before.parts, after.parts, strict=True):
            assert (was.page, was.plate, was.name, was.line, was.closed) == (is_.page, is_.plate, is_.name, is_.line, is_.closed)
            assert [value for point in is_.points for value in point] == pytest.approx(
                [value for point in was.points for value in point], abs=0.001
            )

    def test_it_is_verified_against_its_own_spec(self, way: str) -> None:
        checked = verify(RESAVED[way](pack()))
        assert (checked.verified.parts, checked.excerpt, checked.warnings) == (len(measure_pdf(pack()).parts), "", ())
        assert checked.verified.largest_difference < 0.001


class TestRoundTrip:
    def test_the_same_pack_comes_out(self, tmp_path: Path) -> None:
        (tmp_path / "pool.pdf").write_bytes(by_pikepdf(pack(), linearize=True))
        ran = bookplates("make", "pool.pdf", "-o", "again.pdf", cwd=tmp_path)
        assert (ran.code, ran.err) == (0, "")
        assert (tmp_path / "again.pdf").read_bytes() == pack()

    def test_from_standard_input_too(self, tmp_path: Path) -> None:
        ran = bookplates("make", "-", given=pack(), cwd=tmp_path)
        assert (ran.code, ran.raw) == (0, pack())
        assert bookplates("plan", "-", "--json", given=pack()).out == bookplates("plan", "-", "--json", given=SPEC).out
        assert names_in(tmp_path) == set()

    def test_an_excerpt_gives_the_whole_pack(self, tmp_path: Path) -> None:
        (tmp_path / "two.pdf").write_bytes(make_pack(SPEC, Wanted(pages="2-3")).pdf)
        assert bookplates("make", "two.pdf", "-o", "all.pdf", cwd=tmp_path).code == 0
        assert (tmp_path / "all.pdf").read_bytes() == pack()

    def test_the_usual_name_would_be_the_pack_itself(self, tmp_path: Path) -> None:
        (tmp_path / "pool.pdf").write_bytes(pack())
        ran = bookplates("make", "pool.pdf", cwd=tmp_path)
        assert (ran.code, ran.lines) == (1, ["pool.pdf: is the file that is read; another name for the output, with -o"])
        assert (tmp_path / "pool.pdf").read_bytes() == pack()
        assert names_in(tmp_path) == {"pool.pdf"}

    def test_a_warning_names_the_line_of_the_attached_spec(self, tmp_path: Path) -> None:
        warned = SPEC.replace(b"folios = 8", b"folios = 20")
        (tmp_path / "pool.pdf").write_bytes(pack(warned))
        ran = bookplates("plan", "pool.pdf", cwd=tmp_path)
        assert ran.code == 0
        assert ran.lines[-1].startswith("pool.pdf (spec.toml):4: warning: text_block.folios: ")

    def test_a_fault_in_it_is_told_with_its_line(self, tmp_path: Path) -> None:
        (tmp_path / "pool.pdf").write_bytes(with_spec(SPEC.replace(b"folios", b"folioz")))
        for command in (["plan"], ["make", "-o", "x.pdf"], ["verify"]):
            ran = bookplates(*command, "pool.pdf", cwd=tmp_path)
            assert (ran.code, ran.out) == (1, "")
            assert ran.err.startswith("pool.pdf (spec.toml):4: text_block.folioz: ")
        assert names_in(tmp_path) == {"pool.pdf"}


def with_spec(spec: bytes) -> bytes:
    """The pack with other bytes attached."""
    document = pikepdf.open(io.BytesIO(pack()))
    embedded(document).write(spec)
    return saved(document)


def changed(change: Callable[[pikepdf.Pdf], None]) -> bytes:
    document = pikepdf.open(io.BytesIO(pack()))
    change(document)
    return saved(document)


def locked(data: bytes) -> bytes:
    return by_pikepdf(data, encryption=pikepdf.Encryption(owner="a", user="b"))


def attach_twice(document: pikepdf.Pdf) -> None:
    tree = document.Root.Names.EmbeddedFiles.Names
    tree.extend([pikepdf.String("zz"), tree[1]])


def none_attached(document: pikepdf.Pdf) -> None:
    del document.Root.Names["/EmbeddedFiles"]


def other_name(document: pikepdf.Pdf) -> None:
    document.Root.Names.EmbeddedFiles.Names[1].UF = pikepdf.String("other.toml")


def no_stream(document: pikepdf.Pdf) -> None:
    document.Root.Names.EmbeddedFiles.Names[1].EF = pikepdf.Dictionary()


def cut_short(document: pikepdf.Pdf) -> None:
    embedded(document).write(zlib.compress(SPEC)[:-9], filter=pikepdf.Name.FlateDecode)


def as_a_picture(document: pikepdf.Pdf) -> None:
    embedded(document).write(SPEC, filter=pikepdf.Name.DCTDecode)


def predicted(document: pikepdf.Pdf) -> None:
    parameters = pikepdf.Dictionary(Predictor=12, Columns=4)
    embedded(document).write(zlib.compress(SPEC), filter=pikepdf.Name.FlateDecode, decode_parms=parameters)


def bomb(document: pikepdf.Pdf) -> None:
    embedded(document).write(zlib.compress(b"#" * 80_000_000), filter=pikepdf.Name.FlateDecode)


def bomb_in_bomb(document: pikepdf.Pdf) -> None:
    twice = zlib.compress(zlib.compress(b"#" * 80_000_000))
    embedded(document).write(twice, filter=pikepdf.Array([pikepdf.Name.FlateDecode] * 2))


def packed_often(document: pikepdf.Pdf) -> None:
    embedded(document).write(SPEC, filter=pikepdf.Array([pikepdf.Name.ASCIIHexDecode] * 5))


REFUSED: dict[str, tuple[Callable[[], bytes], str]] = {
    "none": (lambda: changed(none_attached), "the PDF has no attached file named spec.toml; a pack made by bookplates has one"),
    "another name": (lambda: changed(other_name), "has no attached file named spec.toml"),
    "two": (lambda: changed(attach_twice), "has 2 attached files named spec.toml"),
    "locked": (lambda: locked(pack()), "encrypted; save it without a password"),
    "cut short": (lambda: pack()[:-2000], "cut short"),
    "damaged": (lambda: b"%PDF-1.7\n" + b"x" * 3000 + b"\n%%EOF", "damaged"),
    "no stream": (lambda: changed(no_stream), "it is missing from the file"),
    "half a stream": (lambda: changed(cut_short), "it is cut short"),
    "a picture's filter": (lambda: changed(as_a_picture), "packed with DCTDecode"),
    "a picture's prediction": (lambda: changed(predicted), "as only pictures are"),
    "swelling": (lambda: changed(bomb), "it is too long; a spec has 64 KiB at most"),
    "swelling twice": (lambda: changed(bomb_in_bomb), "it is too long"),
    "packed often": (lambda: changed(packed_often), "packed too often"),
    "a byte too long": (lambda: with_spec(SPEC.ljust(64 * 1024 + 1, b"#")), "it is too long"),
}


class TestRefused:
    @pytest.mark.parametrize("case", REFUSED)
    def test_in_one_sentence(self, case: str) -> None:
        data, said = REFUSED[case]
        with pytest.raises(BadFile) as caught:
            attached_spec(data())
        (problem,) = caught.value.problems
        assert said in str(problem)

    def test_what_swells_is_not_unpacked(self) -> None:
        data = changed(bomb)  # 80 MB of one letter
        tracemalloc.start()
        with pytest.raises(BadFile):
            attached_spec(data)
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert most < 10_000_000

    def test_by_command_it_is_1_and_no_file(self, tmp_path: Path) -> None:
        (tmp_path / "pool.pdf").write_bytes(changed(none_attached))
        for command in (["plan"], ["make", "-o", "x.pdf"]):
            ran = bookplates(*command, "pool.pdf", cwd=tmp_path)
            assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1)
            assert ran.err.startswith("pool.pdf: the PDF has no attached file")
        assert names_in(tmp_path) == {"pool.pdf"}

    def test_as_long_as_a_spec_may_be_will_do(self) -> None:
        longest = SPEC + b"#" * (64 * 1024 - len(SPEC))
        assert attached_spec(with_spec(longest)) == longest
        assert attached.LONGEST == MOST_BYTES == 64 * 1024


class TestNameTrees:
    """ISO 32000-1, 7.9.6: the root may hold the names itself, or kids that hold them, on any number of levels."""

    @pytest.mark.parametrize("levels", [1, 2, 7])
    def test_levels_of_kids(self, levels: int) -> None:
        def deepen(document: pikepdf.Pdf) -> None:
            node = document.make_indirect(pikepdf.Dictionary(Names=document.Root.Names.EmbeddedFiles.Names))
            for _ in range(levels):
                node = document.make_indirect(pikepdf.Dictionary(Kids=pikepdf.Array([node])))
            document.Root.Names.EmbeddedFiles = node

        assert attached_spec(changed(deepen)) == SPEC

    def test_another_programs_tree_with_other_files_in_it(self) -> None:
        writer, out = PdfWriter(clone_from=PdfReader(io.BytesIO(pack()))), io.BytesIO()
        writer.add_attachment("notes.txt", b"for Thursday")
        writer.write(out)
        assert attached_spec(out.getvalue()) == SPEC

    def test_attached_anew_by_another_program(self) -> None:
        writer, out = PdfWriter(clone_from=PdfReader(io.BytesIO(changed(none_attached)))), io.BytesIO()
        writer.add_attachment("spec.toml", SPEC)
        writer.write(out)
        assert attached_spec(out.getvalue()) == SPEC
        again = changed(none_attached)
        with pikepdf.open(io.BytesIO(again)) as document:
            document.attachments["spec.toml"] = pikepdf.AttachedFileSpec(document, SPEC, filename="spec.toml")
            assert attached_spec(saved(document)) == SPEC

    def test_a_tree_that_is_its_own_kid(self) -> None:
        def loop(document: pikepdf.Pdf) -> None:
            root = document.make_indirect(document.Root.Names.EmbeddedFiles)
            root.Kids = pikepdf.Array([root, root])
            document.Root.Names.EmbeddedFiles = root

        assert attached_spec(changed(loop)) == SPEC

    def test_a_tree_without_end(self) -> None:
        def deepen(document: pikepdf.Pdf) -> None:
            node = document.make_indirect(pikepdf.Dictionary(Names=pikepdf.Array([])))
            for _ in range(40):
                node = document.make_indirect(pikepdf.Dictionary(Kids=pikepdf.Array([node])))
            document.Root.Names.EmbeddedFiles = node

        with pytest.raises(BadFile, match="no end"):
            attached_spec(changed(deepen))

    @pytest.mark.parametrize(
        "tree", [pikepdf.Array([1]), pikepdf.Dictionary(Names=7), pikepdf.Dictionary(Kids=pikepdf.Array([3]))]
    )
    def test_a_tree_that_is_none(self, tree: Any) -> None:
        def spoil(document: pikepdf.Pdf) -> None:
            document.Root.Names.EmbeddedFiles = tree

        with pytest.raises(BadFile):
            attached_spec(changed(spoil))


class TestVerify:
    @pytest.fixture
    def folder(self, tmp_path: Path) -> Path:
        (tmp_path / "pool.toml").write_bytes(SPEC)
        (tmp_path / "pool.pdf").write_bytes(pack())
        return tmp_path

    def test_a_pack_against_its_own_spec_or_the_one_given(self, folder: Path) -> None:
        for options in ([], ["--spec", "pool.toml"], ["--spec", "pool.pdf"]):
            ran = bookplates("verify", "pool.pdf", *options, cwd=folder)
            assert (ran.code, ran.err) == (0, "")
            assert re.fullmatch(r"verified: \d+ parts, largest difference 0\.000\d mm\n", ran.out)
        assert bookplates("verify", "-", given=pack()).code == 0

    def test_against_another_book_every_difference_is_told(self, folder: Path) -> None:
        (folder / "other.toml").write_bytes(SPEC.replace(b"100 x 150 mm", b"100 x 151 mm"))
        ran = bookplates("verify", "pool.pdf", "--spec", "other.toml", cwd=folder)
        assert (ran.code, ran.out) == (3, "")
        assert len(ran.lines) > 5
        assert all(line.startswith("pool.pdf: ") for line in ran.lines)

    def test_a_pack_that_was_scaled_is_told(self, folder: Path) -> None:
        writer, out = PdfWriter(clone_from=PdfReader(io.BytesIO(pack()))), io.BytesIO()
        for page in writer.pages:
            page.scale_by(0.97)
        writer.write(out)
        (folder / "pool.pdf").write_bytes(out.getvalue())
        ran = bookplates("verify", "pool.pdf", cwd=folder)
        assert (ran.code, ran.out) == (3, "")
        assert "pages 1-13: bar across reaches 97.0000 mm across the page, not 100.0000 mm" in ran.err

    def test_a_pack_that_lost_a_page_is_told(self) -> None:
        with pikepdf.open(io.BytesIO(pack())) as document:
            del document.pages[-1]
            without = saved(document)
        with pytest.raises(Disagreement, match="on no page"):
            verify(without)

    @pytest.mark.parametrize(
        ("wanted", "way", "said"),
        [
            (Wanted(plates="spacer"), "object streams", "only spacer"),
            (Wanted(plates="sizes"), "pypdf", "only sizes"),
            (Wanted(pages="-2"), "pdfium", "pages 1-2 of {}"),
            (Wanted(plates="sizes, steps", pages="1"), "linearised", "only sizes, steps; page 1 of {}"),
        ],
    )
    def test_an_excerpt_may_lack_plates_and_says_so(self, folder: Path, wanted: Wanted, way: str, said: str) -> None:
        (folder / "part.pdf").write_bytes(RESAVED[way](make_pack(SPEC, wanted).pdf))
        ran = bookplates("verify", "part.pdf", cwd=folder)
        assert (ran.code, ran.err) == (0, "")
        assert re.search(f"; an excerpt: {said}$".format(r"\d+"), ran.out.strip())

    def test_an_excerpt_of_a_corrected_pack_of_several_pages(self) -> None:
        spec = f'{LIGHTHOUSE}\n[print]\nbar_across = "98 mm"\n'.encode()
        checked = verify(make_pack(spec, Wanted(pages="4-")).pdf)
        assert checked.verified.parts > 10
        assert checked.excerpt.startswith("pages 4-")

    def test_what_an_excerpt_shows_must_be_right(self) -> None:
        part = make_pack(SPEC, Wanted(plates="punch guide")).pdf
        with pytest.raises(Disagreement, match=r"punch guide: fold .fold. is 0.5000 mm from the plan"):
            verify(part, SPEC.replace(b"150 mm", b"151 mm"))

    def test_a_word_that_only_looks_like_one_is_printed_as_it_is(self, folder: Path) -> None:
        def boast(document: pikepdf.Pdf) -> None:
            document.docinfo["/Excerpt"] = "all\x1b[31m of it\n" + "x" * 5000

        (folder / "pool.pdf").write_bytes(changed(boast))
        ran = bookplates("verify", "pool.pdf", cwd=folder)
        assert (ran.code, len(ran.out.splitlines())) == (0, 1)
        assert "excerpt" not in ran.out

    @pytest.mark.parametrize(
        ("wanted", "copies"), [(Wanted(), 1), (Wanted(plates="spacer, tape guide"), 3), (Wanted(pages="2-"), 1)], ids=str
    )
    @pytest.mark.parametrize("twice", [False, True])
    def test_a_page_lost_or_doubled_is_told(self, wanted: Wanted, copies: int, twice: bool) -> None:
        whole = make_pack(SPEC + f"[print]\ncopies = {copies}\n".encode(), wanted)
        for number in range(whole.pages):
            with pikepdf.open(io.BytesIO(whole.pdf)) as document:
                if twice:
                    document.pages.append(document.pages[number])
                else:
                    del document.pages[number]
                spoilt = saved(document)
            with pytest.raises(Disagreement, match=f"it has {whole.pages + 1 if twice else whole.pages - 1} pages, not"):
                verify(spoilt)

    def test_an_excerpt_by_plates_holds_all_of_them(self) -> None:
        part = make_pack(SPEC, Wanted(plates="spacer, punch guide")).pdf

        def doctored(document: pikepdf.Pdf) -> None:
            del document.docinfo["/PageCount"]
            del document.pages[-1]

        with pikepdf.open(io.BytesIO(part)) as document:
            doctored(document)
            spoilt = saved(document)
        with pytest.raises(Disagreement, match="on no page"):
            verify(spoilt)

    @pytest.mark.parametrize("words", ["most of it", "only foo", "only ,", "only punch guide, foo", "page 5 of 3"])
    def test_words_of_an_excerpt_that_nobody_wrote_do_not_excuse_what_is_missing(self, words: str) -> None:
        def claim(document: pikepdf.Pdf) -> None:
            document.docinfo["/Excerpt"] = words
            del document.docinfo["/PageCount"]
            del document.pages[-1]

        with pytest.raises(Disagreement, match="on no page"):
            verify(changed(claim))

    @pytest.mark.parametrize(("name", "told"), [("Cut lines", True), ("Holes", True), ("Notes", False), ("Dimensions", False)])
    def test_lines_that_would_not_print_are_told(self, name: str, told: bool) -> None:
        def hide(document: pikepdf.Pdf) -> None:
            layers = document.Root.OCProperties
            layers.D.OFF = pikepdf.Array([group for group in layers.OCGs if str(group.Name) == name])

        if told:
            with pytest.raises(Disagreement, match=f"the layer '{name}' is hidden"):
                verify(changed(hide))
        else:
            assert verify(changed(hide)).verified.parts > 10

    def test_a_pack_that_forgot_how_to_be_printed_is_warned_of(self, folder: Path) -> None:
        def forget(document: pikepdf.Pdf) -> None:
            del document.Root.ViewerPreferences

        (folder / "pool.pdf").write_bytes(changed(forget))
        ran = bookplates("verify", "pool.pdf", cwd=folder)
        assert (ran.code, len(ran.out.splitlines())) == (0, 1)
        assert ran.err.startswith("pool.pdf: warning: it no longer asks the viewer to print it at 100 %; choose")

    @pytest.mark.parametrize("excerpt", [pikepdf.Name.Yes, 7, pikepdf.Array([])])
    def test_a_note_that_is_no_text_is_none(self, excerpt: Any) -> None:
        def note(document: pikepdf.Pdf) -> None:
            document.trailer.Info["/Excerpt"] = excerpt

        assert about(changed(note)).excerpt in ("", "/Yes")

    def test_without_a_spec_it_is_1(self, folder: Path) -> None:
        (folder / "pool.pdf").write_bytes(changed(none_attached))
        ran = bookplates("verify", "pool.pdf", cwd=folder)
        assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1)
        assert "no attached file named spec.toml" in ran.err
        assert bookplates("verify", "pool.pdf", "--spec", "pool.toml", cwd=folder).code == 0

    def test_wrong_use(self, folder: Path) -> None:
        assert bookplates("verify", "-", "--spec", "-", given=pack()).code == 2
        assert bookplates("verify", cwd=folder).code == 2
        assert bookplates("verify", "pool.toml", cwd=folder).err == "pool.toml: this is not a PDF\n"
        assert bookplates("verify", "pool.pdf", "--spec", "nowhere.toml", cwd=folder).code == 1


def letter() -> bytes:
    canvas = Canvas(out := io.BytesIO())
    canvas.drawString(72, 720, "Dear Marrow Society,")
    canvas.rect(72, 300, 200, 100)
    canvas.save()
    return out.getvalue()


def picture_alone() -> bytes:
    canvas = Canvas(out := io.BytesIO())
    canvas.drawImage(ImageReader(Image.new("RGB", (40, 30), "green")), 72, 300, 200, 150)
    canvas.save()
    return out.getvalue()


def form() -> bytes:
    canvas = Canvas(out := io.BytesIO())
    canvas.acroForm.textfield(name="plot", x=72, y=600, width=200, height=20)
    canvas.acroForm.checkbox(name="beans", x=72, y=500)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def in_ascii85() -> bytes:
    before, rl_config.useA85 = rl_config.useA85, 1
    try:
        return letter()
    finally:
        rl_config.useA85 = before


class TestOrdinary:
    """PDFs that are no packs."""

    @pytest.mark.parametrize("kind", [letter, picture_alone, form, in_ascii85])
    def test_measure_says_so_and_verify_is_1(self, tmp_path: Path, kind: Callable[[], bytes]) -> None:
        (tmp_path / "other.pdf").write_bytes(kind())
        ran = bookplates("measure", "other.pdf", cwd=tmp_path)
        assert (ran.code, ran.err) == (0, "")
        assert ran.out == "1 page, no parts: this document holds no templates that name themselves\n"
        ran = bookplates("verify", "other.pdf", cwd=tmp_path)
        assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1)
        assert ran.err.startswith("other.pdf: this document holds no templates that name themselves")

    def test_a_font_that_a_pack_names_is_refused_and_verified_all_the_same(self) -> None:
        spec = SPEC.replace(b"\r\n", b'\r\n[print]\r\nfont = "hand.ttf"\r\n')
        with pytest.raises(BadSpec, match="font"):
            make_pack(spec)
        assert verify(with_spec(spec)).verified.parts > 10
