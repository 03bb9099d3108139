"""The seed of this run's mutants: another one each time, or the one that is asked for."""

import os
import secrets

VARIABLE = "MUTANT_SEED"
if not os.environ.get(VARIABLE):
    # Into the environment, so that processes that run tests beside this one take the same.
    os.environ[VARIABLE] = str(secrets.randbelow(10**9))
SEED = os.environ[VARIABLE]
