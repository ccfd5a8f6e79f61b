// Writes models-loader.json: what the loaders make of each file of Debian's
// package assimp-testmodels in a format that they know, or with --check compares
// it. parse/models_test.go holds our own readers against it.
import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { load } from './load.mjs';

const models = process.env.ASSIMP_MODELS ?? '/usr/share/assimp/models';
const table = fileURLToPath(new URL('models-loader.json', import.meta.url));
if (!existsSync(models)) {
	process.stderr.write(`models: skipped, ${models} is not there (apt install assimp-testmodels)\n`);
	process.exit(0);
}

// What a picture looks like is no matter here, and Node can load none: glTF
// goes without materials, and with the buffers beside it inside.
function bare(text, folder) {
	const gltf = JSON.parse(text);
	for (const key of ['materials', 'textures', 'images', 'samplers', 'extensionsUsed', 'extensionsRequired']) delete gltf[key];
	for (const mesh of gltf.meshes ?? []) for (const primitive of mesh.primitives ?? []) delete primitive.material;
	for (const buffer of gltf.buffers ?? []) {
		if (buffer.uri && !buffer.uri.startsWith('data:')) {
			buffer.uri = `data:application/octet-stream;base64,${readFileSync(join(folder, decodeURIComponent(buffer.uri))).toString('base64')}`;
		}
	}
	return JSON.stringify(gltf);
}

// outcome says whether a file loads, how many of its nodes move and how long.
async function outcome(name) {
	const path = join(models, name);
	const extension = name.slice(name.lastIndexOf('.') + 1).toLowerCase();
	try {
		const raw = readFileSync(path);
		const utf16 = raw[0] === 0xff && raw[1] === 0xfe;
		const text = raw.toString(utf16 ? 'utf16le' : 'utf8').replace(/^\ufeff/, '');
		const { root, clips, still } = await load(name, extension === 'gltf' ? bare(text, dirname(path)) : text.replace(/\.tga\b/gi, '.png'));
		const [first] = still ?? clips.map(({ clip }) => clip);
		if (!first) return { moving: 0, seconds: 0 };
		const parts = new Set(first.tracks.filter(moves).map((track) => track.name.slice(0, track.name.lastIndexOf('.'))));
		return { moving: parts.size, seconds: Number(first.duration.toFixed(3)) };
	} catch (error) {
		return { fails: String(error).split('\n')[0].replace(models, '').slice(0, 90) };
	}
}

// moves reports whether a track holds more than one value.
function moves(track) {
	const size = track.getValueSize();
	return track.values.some((v, i) => v !== track.values[i % size]);
}

// within gives up on a loader that waits for what never comes.
function within(seconds, promise) {
	return Promise.race([promise, new Promise((done) => { setTimeout(() => done({ fails: 'waits for ever' }), 1000 * seconds).unref(); })]);
}

const names = readdirSync(models, { recursive: true })
	.map((name) => name.split('\\').join('/'))
	.filter((name) => /\.(bvh|dae|gltf|wrl)$/i.test(name))
	// Named after a program, whose name has no place here; it is a still model.
	.filter((name) => !/^Collada\/C\w+4D\.dae$/.test(name))
	.sort();
const lines = [];
for (const name of names) lines.push(`\t${JSON.stringify(name)}: ${JSON.stringify(await within(20, outcome(name)))}`);
const made = `{\n${lines.join(',\n')}\n}\n`;
if (!process.argv.includes('--check')) {
	writeFileSync(table, made);
} else if (readFileSync(table, 'utf8') !== made) {
	process.stderr.write('models-loader.json differs; run npm run tables and look at what changed\n');
	process.exit(1);
}
process.stdout.write(`${names.length} files of other writers\n`);
process.exit(0);
