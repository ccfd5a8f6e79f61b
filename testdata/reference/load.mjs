// Loads one scene of any format and returns { root, clips }: an Object3D in
// metres with Y up (BVH: in its own unit), and pairs of a clip and the object
// it plays on. What the loaders get wrong is worked around here, each time with
// the reason.
import './browser.mjs';
import { Group, REVISION } from 'three';

const [{ BVHLoader }, { ColladaLoader }, { GLTFLoader }, { USDLoader }, { VRMLLoader }] = await Promise.all([
	import('three/examples/jsm/loaders/BVHLoader.js'),
	import('three/examples/jsm/loaders/ColladaLoader.js'),
	import('three/examples/jsm/loaders/GLTFLoader.js'),
	import('three/examples/jsm/loaders/USDLoader.js'),
	import('three/examples/jsm/loaders/VRMLLoader.js'),
]);

export const library = `three r${REVISION}`;

export async function load(path, text) {
	const extension = path.slice(path.lastIndexOf('.') + 1).toLowerCase();
	return loaders[extension](text);
}

const loaders = { bvh: loadBVH, dae: loadCOLLADA, gltf: loadGLTF, usda: loadUSDA, wrl: loadVRML };

async function loadGLTF(text) {
	const gltf = await new GLTFLoader().parseAsync(text, '');
	return { root: gltf.scene, clips: gltf.animations.slice(0, 1).map((clip) => ({ clip, on: gltf.scene })) };
}

function loadCOLLADA(text) {
	// Only its still pose is used: its animation is known to be wrong, see
	// README.md. It calls joints by their sid, which takes them out of the
	// names of the file.
	const root = new ColladaLoader().parse(text, '').scene;
	const nodes = [...text.matchAll(/<node\b([^>]*)>/g)].map(([, attributes]) => attributes);
	const attribute = (node, key) => node.match(new RegExp(`\\b${key}="([^"]*)"`))?.[1];
	const names = new Map(nodes.map((node) => [attribute(node, 'sid'), attribute(node, 'name')]));
	root.traverse((object) => {
		if (object.isBone) object.name = names.get(object.name) ?? object.name;
	});
	return { root, clips: [], still: root.animations };
}

function loadVRML(text) {
	return { root: new VRMLLoader().parse(text, ''), clips: [] };
}

// The loader reads one ROOT and takes the whole frame line for it, so each
// ROOT is handed to it as a file of its own.
function loadBVH(text) {
	const root = new Group();
	const clips = [];
	for (const file of splitRoots(text)) {
		const { skeleton, clip } = new BVHLoader().parse(file);
		root.add(skeleton.bones[0]);
		clips.push({ clip, on: skeleton.bones[0] });
	}
	return { root, clips };
}

function splitRoots(text) {
	const at = text.search(/^\s*MOTION\s*$/m);
	const blocks = text.slice(0, at).split(/^(?=ROOT\b)/m).slice(1);
	if (blocks.length === 1) return [text];
	const [, frames, time, ...rows] = text.slice(at).trim().split('\n');
	let from = 0;
	return blocks.map((block) => {
		const width = [...block.matchAll(/CHANNELS\s+(\d+)/g)].reduce((sum, m) => sum + Number(m[1]), 0);
		const to = from + width;
		const part = rows.map((row) => row.trim().split(/\s+/).slice(from, to).join(' '));
		from = to;
		return ['HIERARCHY', block.trimEnd(), 'MOTION', frames, time, ...part, ''].join('\n');
	});
}

// The loader binds animation to objects by their bare name, so that of two
// parts called head only one would move. Names are made unique before, and
// partName takes the mark off again.
function loadUSDA(text) {
	const seen = new Map();
	const unique = text.replace(/^(\s*def \w+ ")(\w+)"/gm, (line, head, name) => {
		const n = (seen.get(name) ?? 0) + 1;
		seen.set(name, n);
		return n > 1 ? `${head}${name}${mark}${n}"` : line;
	});
	const root = new USDLoader().parse(unique);
	return { root, clips: root.animations.map((clip) => ({ clip, on: root })) };
}

const mark = '__again';

// partName returns the name of an object in its file.
export function partName(object) {
	const name = object.userData?.name ?? object.name ?? '';
	const n = name.indexOf(mark);
	return n < 0 ? name : name.slice(0, n);
}
