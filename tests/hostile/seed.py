"""The seed of this run's mutants: another one each time, or the one that is asked for."""

import os
import secrets

VARIABLE = "MUTANT_SEED"
SEED = os.environ.get(VARIABLE) or str(secrets.randbelow(10**9))
