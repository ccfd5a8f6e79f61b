// Writes warp.json: costs of dynamic time warping by the npm package dtw, to hold
// motion.TimeWarp against. Sequences are whole numbers made by a linear
// congruential generator, so that every sum is exact.
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const here = fileURLToPath(new URL('.', import.meta.url));
const require = createRequire(import.meta.url);
const DTW = require('dtw');
let state = 20251125;
const next = (n) => {
	state = (state * 1103515245 + 12345) % 2147483648;
	return Math.floor(state / 65536) % n;
};
const sequence = (n) => Array.from({ length: n }, () => next(10));

const cases = [];
for (let i = 0; i < 40; i++) {
	const a = sequence(1 + next(30));
	// The package's band is counted from the diagonal of equal indices; ours from
	// the line between the corners. They are the same for equal lengths.
	const banded = i % 2 === 1;
	const b = sequence(banded ? a.length : 1 + next(30));
	const band = banded ? next(8) + 1 : -1;
	const dtw = new DTW({ distanceMetric: 'manhattan' });
	cases.push({ a, b, band, cost: banded ? dtw.compute(a, b, band) : dtw.compute(a, b) });
}
const version = JSON.parse(readFileSync(require.resolve('dtw/package.json'))).version;
const text = JSON.stringify({ source: `npm dtw ${version}`, cases }) + '\n';
if (process.argv.includes('--check')) {
	if (readFileSync(here + 'warp.json', 'utf8') !== text) {
		console.error('warp.json is not what the package says');
		process.exit(1);
	}
} else {
	writeFileSync(here + 'warp.json', text);
}
