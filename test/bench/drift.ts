// How often does the stated error of a move hold the truth? The long version of the check in test/piste/coverage.test.ts.

import { coverage } from "../piste/simulated";

const moves = 100_000;
console.log(JSON.stringify({ moves, held: coverage(moves, 17) }));
