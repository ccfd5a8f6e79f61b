// Runs the glTF validator over every glTF that the repository ships, or over
// the files named; errors fail.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import validator from 'gltf-validator';

const testdata = fileURLToPath(new URL('..', import.meta.url));
// Files that are broken on purpose say so by their folder.
const files = process.argv.length > 2 ? process.argv.slice(2) : readdirSync(testdata, { recursive: true })
	.filter((name) => name.endsWith('.gltf') && !name.includes('node_modules') && !name.startsWith('broken'))
	.map((name) => join(testdata, name));

let failed = false;
for (const file of files) {
	const report = await validator.validateBytes(new Uint8Array(readFileSync(file)), {
		uri: file,
		externalResourceFunction: async (uri) => new Uint8Array(readFileSync(join(dirname(file), decodeURIComponent(uri)))),
	});
	const { numErrors, messages } = report.issues;
	for (const m of messages.filter(({ severity }) => severity === 0)) {
		process.stderr.write(`${file}: ${m.code} at ${m.pointer}: ${m.message}\n`);
	}
	failed ||= numErrors > 0;
}
process.stdout.write(`${files.length} glTF files validated\n`);
if (failed) process.exit(1);
