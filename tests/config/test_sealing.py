"""What is sealed comes back to the byte, and what was changed, cut or added to is refused."""

from __future__ import annotations

import pytest

from config.backup.sealing import PIECE_BYTES, Damaged, Opening, Sealing
from projects.errors import BadValue

KEY = b"a key that is long enough for anybody, and known to all"


@pytest.mark.parametrize("size", [0, 1, PIECE_BYTES - 1, PIECE_BYTES, PIECE_BYTES + 1, 3 * PIECE_BYTES])
def test_sealed_bytes_come_back_and_any_change_is_refused(tmp_path, size):
    file, content = tmp_path / "sealed", bytes(range(256)) * (size // 256) + bytes(size % 256)
    with file.open("wb") as target:
        sealing = Sealing(target, key=KEY)
        sealing.write(content)
        sealing.finish()
    sealed = file.read_bytes()

    def opened(changed: bytes) -> bytes:
        file.write_bytes(changed)
        with file.open("rb") as source:
            return Opening(source, key=KEY).read()

    assert opened(sealed) == content
    assert size < 64 or content[:64] not in sealed
    for place in (0, 20, 40, len(sealed) // 2, len(sealed) - 1):
        with pytest.raises(BadValue):
            opened(sealed[:place] + bytes([sealed[place] ^ 1]) + sealed[place + 1 :])
    for end in {len(sealed) - 1, len(sealed) - 17, 41, 10}:
        with pytest.raises(Damaged):
            opened(sealed[:end])
    with pytest.raises(Damaged):
        opened(sealed + sealed[-17:])
