// Writes cases/kinds.gltf: an invented crate moved by every interpolation and
// every kind of accessor that glTF 2.0 has for animation.
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const bytes = [];
const bufferViews = [];
const accessors = [];

// view appends bytes, aligned to four, and returns the index of their view.
function view(data, stride) {
	while (bytes.length % 4) bytes.push(0);
	bufferViews.push({ buffer: 0, byteOffset: bytes.length, byteLength: data.length, ...(stride && { byteStride: stride }) });
	bytes.push(...data);
	return bufferViews.length - 1;
}

function float32(values) {
	return [...new Uint8Array(new Float32Array(values).buffer)];
}

const widths = { SCALAR: 1, VEC3: 3, VEC4: 4 };

// floats adds an accessor of floats and returns its index.
function floats(type, values, more = {}) {
	const count = values.length / widths[type];
	accessors.push({ bufferView: view(float32(values)), componentType: 5126, count, type, ...more });
	return accessors.length - 1;
}

function times(values) {
	return floats('SCALAR', values, { min: [values[0]], max: [values.at(-1)] });
}

// normalised adds an accessor of integers that stand for -1 to 1.
function normalised(componentType, largest, values) {
	const array = componentType === 5120 ? new Int8Array(values.length) : new Int16Array(values.length);
	values.forEach((v, i) => { array[i] = Math.round(v * largest); });
	accessors.push({ bufferView: view([...new Uint8Array(array.buffer)]), componentType, normalized: true, count: values.length / 4, type: 'VEC4' });
	return accessors.length - 1;
}

// sparse adds an accessor of which only some elements are written: the others
// are those of a base, or zero.
function sparse(base, count, indices, values) {
	accessors.push({
		...(base && { bufferView: view(float32(base)) }),
		componentType: 5126, count, type: 'VEC3',
		sparse: {
			count: indices.length,
			indices: { bufferView: view([...new Uint8Array(new Uint16Array(indices).buffer)]), componentType: 5123 },
			values: { bufferView: view(float32(values)) },
		},
	});
	return accessors.length - 1;
}

// about returns the quaternion x y z w of a turn in degrees about an axis.
function about(axis, degrees) {
	const half = degrees * Math.PI / 360;
	return [...axis.map((v) => v * Math.sin(half)), Math.cos(half)];
}

const four = times([0, 0.25, 0.75, 1.5]);
const x = [1, 0, 0];
const z = [0, 0, 1];
const turns = [...about(z, 0), ...about(z, 60), ...about(x, 100), ...about(x, 250)];
// As bytes these are unit quaternions to the last bit, since the sum of their
// squares is the square of 127: the loader takes others as they are, with a
// scale, where the specification means unit quaternions.
const byteTurns = [0, 0, 0, 127, -10, -3, 66, 108, 100, -6, -3, 78, 100, -6, -3, -78].map((v) => v / 127);
const path = [0, 0, 0, 1, 2, 0, 3, 2, 1, 4, 0, 2];

// Cubic splines hold an in-tangent, a value and an out-tangent a key.
const cubic = (values, width, tangent) => Array.from({ length: values.length / width }, (_, k) => {
	const at = values.slice(k * width, (k + 1) * width);
	return [...at.map((_, i) => tangent * (i + k - 1)), ...at, ...at.map((_, i) => tangent * (i - k + 0.5))];
}).flat();

const moves = {
	linear: ['translation', 'LINEAR', floats('VEC3', path)],
	step: ['translation', 'STEP', floats('VEC3', path)],
	cubic: ['translation', 'CUBICSPLINE', floats('VEC3', cubic(path, 3, 1.5))],
	turn: ['rotation', 'LINEAR', floats('VEC4', turns)],
	turn_step: ['rotation', 'STEP', floats('VEC4', turns)],
	turn_cubic: ['rotation', 'CUBICSPLINE', floats('VEC4', cubic(turns, 4, 0.4))],
	turn_bytes: ['rotation', 'LINEAR', normalised(5120, 127, byteTurns)],
	turn_shorts: ['rotation', 'LINEAR', normalised(5122, 32767, turns)],
	size: ['scale', 'LINEAR', floats('VEC3', [1, 1, 1, 2, 1, 1, 2, 0.5, 1, 1, 1, 3])],
	sparse: ['translation', 'LINEAR', sparse(path, 4, [1, 3], [5, 5, 5, 6, 7, 8])],
	sparse_zero: ['translation', 'LINEAR', sparse(null, 4, [2], [1, 2, 3])],
};

const nodes = [{ name: 'crate', children: [1], matrix: [0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 1, 0, 1, 2, 3, 1] }, { name: 'load', scale: [1, 2, 1], rotation: about(x, 30), children: [] }];
const channels = [];
const samplers = [];
for (const [name, [path, interpolation, output]] of Object.entries(moves)) {
	const node = nodes.length;
	nodes[1].children.push(node);
	nodes.push({ name, children: [node + 1] }, { name: `${name}_tip`, translation: [1, 2, 3] });
	channels.push({ sampler: samplers.length, target: { node, path } });
	samplers.push({ input: four, output, interpolation });
}

const uri = `data:application/octet-stream;base64,${Buffer.from(bytes).toString('base64')}`;
const gltf = {
	asset: { version: '2.0', generator: 'testdata/reference/kinds.mjs' },
	scene: 0, scenes: [{ nodes: [0] }], nodes,
	animations: [{ name: 'kinds', channels, samplers }],
	accessors, bufferViews, buffers: [{ byteLength: bytes.length, uri }],
};
writeFileSync(fileURLToPath(new URL('cases/kinds.gltf', import.meta.url)), `${JSON.stringify(gltf, null, '\t')}\n`);
