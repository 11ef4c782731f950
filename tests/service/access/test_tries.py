"""Tries to come in count from before their secret is looked at, and two are looked at at once."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Lock
from typing import TYPE_CHECKING

import pytest
from argon2 import PasswordHasher
from fastapi.testclient import TestClient

from lotkin.core.errors import TooManyTries, WrongSecret
from lotkin.wiring.secrets_hashed import AT_ONCE, Argon2Hashes
from lotkin_service.access.tries import PER_ADDRESS, PER_PERSON, Tries

if TYPE_CHECKING:
    from fastapi import FastAPI


def test_tries_that_are_being_looked_at_count_too() -> None:
    tries = Tries()
    opened = [tries.trying("10.0.0.1", "ida") for _ in range(PER_PERSON.amount)]
    for each in opened:
        each.__enter__()
    with pytest.raises(TooManyTries), tries.trying("10.0.0.2", "ida"):
        pytest.fail("one too many was let through")
    for each in opened:
        each.__exit__(None, None, None)
    with tries.trying("10.0.0.2", "ida"):
        pass


def test_a_right_secret_does_not_count_against_those_who_come_after() -> None:
    tries = Tries()
    for _ in range(3 * PER_ADDRESS.amount):
        with tries.trying("10.0.0.1", "ida"):
            pass


def test_wrong_secrets_count_for_the_person_from_wherever_they_come() -> None:
    tries = Tries()
    for number in range(PER_PERSON.amount):
        with pytest.raises(WrongSecret), tries.trying(f"10.0.0.{number}", "ida"):
            raise WrongSecret
    with pytest.raises(TooManyTries), tries.trying("10.0.0.99", "ida"):
        pytest.fail("one too many was let through")


def test_many_wrong_passwords_at_once_do_not_pass_the_limit(planned_app: FastAPI) -> None:
    looked: list[str] = []
    hashes, lock = planned_app.state.works.sign_in.hashes, Lock()
    real = hashes.fits

    def fits(kept: str, secret: str) -> bool:
        with lock:
            looked.append(secret)
        return bool(real(kept, secret))

    hashes.fits = fits

    def one(_: int) -> int:
        client = TestClient(planned_app, follow_redirects=False)
        return client.post("/sign-in", data={"person": "ida", "password": "wrong"}).status_code

    with ThreadPoolExecutor(24) as pool:
        found = list(pool.map(one, range(24)))
    assert len(looked) <= PER_PERSON.amount
    assert set(found) <= {401, 429}


def test_two_secrets_at_most_are_hashed_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    now, most, lock = [0], [0], Lock()
    real = PasswordHasher.verify

    def counted(self: PasswordHasher, kept: str, secret: str) -> bool:
        with lock:
            now[0] += 1
            most[0] = max(most[0], now[0])
        try:
            return bool(real(self, kept, secret))
        finally:
            with lock:
                now[0] -= 1

    monkeypatch.setattr(PasswordHasher, "verify", counted)
    hashes = Argon2Hashes()
    with ThreadPoolExecutor(12) as pool:
        assert not any(pool.map(lambda each: hashes.fits("", str(each)), range(12)))
    assert most[0] <= AT_ONCE == 2


def test_wrong_tokens_of_one_address_stand_in_the_way_of_no_other() -> None:
    tries = Tries()
    for _ in range(PER_ADDRESS.amount):
        tries.count_token("10.0.0.1")
    with pytest.raises(TooManyTries):
        tries.count_token("10.0.0.1")
    tries.count_token("10.0.0.2")
    with tries.trying("10.0.0.1", "ida"):
        pass
