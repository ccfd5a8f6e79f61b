// Writes the tables of this folder, or with --check compares them with what
// the loaders say now. Sources are files of this repository or of Debian's
// package assimp-testmodels (elsewhere: set ASSIMP_MODELS to its folder).
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { library, load } from './load.mjs';
import { matrices, named, positions } from './evaluate.mjs';

const here = fileURLToPath(new URL('.', import.meta.url));
const models = process.env.ASSIMP_MODELS ?? '/usr/share/assimp/models';
const check = process.argv.includes('--check');

// The deckhand, the gull and what they stand on: by the ends of their paths.
const ferry = [
	'deck', 'winch/drum', 'Tug/hips', 'Tug/hips/spine/chest', 'spine/chest/neck/head', 'chest/neck/head/head_tip',
	'upperarm_l/forearm_l/hand_l', 'forearm_l/hand_l/hand_tip_l', 'upperarm_r/forearm_r/hand_r', 'forearm_r/hand_r/hand_tip_r',
	'shin_l/foot_l', 'foot_l/toe_l/toe_tip_l', 'shin_r/foot_r', 'foot_r/toe_r/toe_tip_r',
	'Gull/torso', 'Gull/torso/neck/head', 'wing_outer_l/wing_tip_l', 'wing_outer_r/wing_tip_r',
];

// joints are those of the parts that BVH gives a name: tips have none.
const joints = ferry.filter((names) => !names.includes('tip'));

// every returns n whole frames from first to last, evenly spread.
function every(n, first, last) {
	return Array.from({ length: n }, (_, i) => Math.round(first + (last - first) * i / (n - 1)));
}

// shot is a table of positions in one of the demo shots. USD time codes are
// absolute: the loader does not take the start off, and neither does seconds.
function shot(source, first, seconds, parts = [...ferry, 'Shot/cam']) {
	return { source, parts, frames: every(24, first, first + 95), seconds };
}

function capture(name, first, last, interval, parts) {
	return { models: `BVH/${name}`, parts, frames: every(50, first, last), seconds: (frame) => (frame - first) * interval };
}

const limbs = ['Head', 'LeftHand', 'RightHand', 'LeftFoot', 'RightFoot', 'LeftToeBase', 'RightToeBase'];

const tables = {
	'bvh-01_01': capture('01_01.bvh', 1, 2752, 0.0083333, limbs),
	'bvh-01_03': capture('01_03.bvh', 1, 4511, 0.0083333, limbs),
	'bvh-boxing': capture('Boxing_Toes.bvh', 1, 3069, 0.01, ['Head', 'LeftWrist', 'RightWrist', 'LeftAnkle', 'RightAnkle', 'LeftToes', 'RightToes']),
};
for (const pass of ['spline', 'polish']) {
	tables[`bvh-${pass}`] = shot(`demo/deckhand_${pass}.bvh`, 1, (frame) => (frame - 1) * 0.0416667, joints);
	tables[`gltf-${pass}`] = shot(`demo/formats/deckhand_${pass}.gltf`, 0, (frame) => frame / 24);
	tables[`collada-${pass}`] = { source: `demo/formats/deckhand_${pass}.dae`, matrices: true };
}
for (const pass of ['spline', 'polish', 'retimed']) {
	tables[`usda-${pass}`] = shot(`demo/deckhand_${pass}.usda`, 1001, (frame) => frame / 24);
}
for (const name of ['COLLADA', 'box_nested_animation', 'cameras', 'library_animation_clips', 'lights', 'teapot_instancenodes', 'anims_with_full_rotations_between_keys']) {
	const file = ['teapot_instancenodes', 'anims_with_full_rotations_between_keys'].includes(name) ? `${name}.DAE` : `${name}.dae`;
	tables[`collada-${name}`] = { models: `Collada/${file}`, matrices: true };
}

// Cases that the shots do not hold: every order of rotations, every op,
// interpolation and accessor.
const tips = (names) => names.split(' ').map((name) => `${name}_tip`);
Object.assign(tables, {
	'bvh-orders': { source: 'reference/cases/orders.bvh', parts: ['crate', 'xzy', 'yxz', 'yzx', 'zxy', 'zyx', 'last'], frames: [1, 2, 3, 4], seconds: (frame) => (frame - 1) * 0.25 },
	'usda-ops': { source: 'reference/cases/ops.usda', parts: tips('xyz orient scaled matrix moving turn_x turn_y turn_z stacked pivot backwards'), frames: [0, 12, 24], seconds: (frame) => frame / 24 },
	'gltf-kinds': { source: 'reference/cases/kinds.gltf', parts: tips('linear step cubic turn turn_step turn_cubic turn_bytes turn_shorts size sparse sparse_zero'), frames: every(19, 0, 36), seconds: (frame) => frame / 24 },
});

// path returns where the source of a table lies.
function path(table) {
	return table.models ? `${models}/${table.models}` : `${here}../${table.source}`;
}

async function make(table) {
	const content = readFileSync(path(table));
	const scene = await load(path(table), content.toString('utf8'));
	const made = {
		source: table.models ? `assimp-testmodels:${table.models}` : table.source,
		// of the file that the table was made from: another needs another table
		sha256: createHash('sha256').update(content).digest('hex'),
		library,
	};
	if (table.matrices) {
		const all = named(scene.root);
		const once = all.filter((names) => all.filter((other) => `/${other}`.endsWith(`/${names}`)).length === 1);
		return { ...made, matrices: matrices(scene, once) };
	}
	return { ...made, frames: table.frames, positions: positions(scene, table.parts, table.frames.map(table.seconds)) };
}

// print writes a table with one part a line.
function print(table) {
	const lines = Object.entries(table).map(([key, value]) => {
		if (key !== 'positions' && key !== 'matrices') return `\t${JSON.stringify(key)}: ${JSON.stringify(value)}`;
		const parts = Object.entries(value).map(([part, rows]) => `\t\t${JSON.stringify(part)}: ${JSON.stringify(rows)}`);
		return `\t${JSON.stringify(key)}: {\n${parts.join(',\n')}\n\t}`;
	});
	return `{\n${lines.join(',\n')}\n}\n`;
}

// differ returns the largest difference of two tables, or Infinity when they
// are about different things.
function differ(a, b) {
	if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b);
	if (typeof a !== 'object' || typeof b !== 'object') return a === b ? 0 : Infinity;
	const keys = Object.keys(a);
	if (keys.join() !== Object.keys(b).join()) return Infinity;
	return Math.max(0, ...keys.map((key) => differ(a[key], b[key])));
}

let failed = false;
for (const [name, table] of Object.entries(tables)) {
	const file = `${here}${name}.json`;
	if (table.models && !existsSync(models)) {
		process.stderr.write(`${name}: skipped, ${models} is not there (apt install assimp-testmodels)\n`);
		continue;
	}
	const made = await make(table);
	if (!check) {
		writeFileSync(file, print(made));
		continue;
	}
	// The tables are rounded; another version of Node may round otherwise.
	const difference = existsSync(file) ? differ(JSON.parse(readFileSync(file, 'utf8')), made) : Infinity;
	if (difference > 2e-7) {
		failed = true;
		process.stderr.write(`${name}.json ${difference === Infinity ? 'is about something else' : `differs by ${difference}`}; run npm run tables and look at what changed\n`);
	}
}
if (failed) process.exit(1);
process.stdout.write(`${Object.keys(tables).length} tables ${check ? 'compared' : 'written'}\n`);
