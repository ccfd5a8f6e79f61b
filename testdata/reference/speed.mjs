// Loads each file whose path comes on a line of standard input and answers how
// many milliseconds that took, without reading it from disk: the baseline of
// cmd/lab/bench.
import { readFileSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { load } from './load.mjs';

const texts = new Map();
console.warn = console.log; // what loaders say goes to standard error
console.log = (...words) => process.stderr.write(words.join(' ') + '\n');

for await (const path of createInterface({ input: process.stdin })) {
	if (!texts.has(path)) texts.set(path, readFileSync(path, 'utf8'));
	try {
		const start = performance.now();
		await load(path, texts.get(path));
		process.stdout.write(`${performance.now() - start}\n`);
	} catch (error) {
		process.stdout.write(`${error}\n`);
	}
}
