// Evaluates a loaded scene: where parts are at given times, and how nodes stand
// without animation.
import { AnimationMixer, LoopOnce, Vector3 } from 'three';
import { partName } from './load.mjs';

// paths returns all objects of a scene by their path of names.
function paths(root) {
	const all = [];
	const walk = (object, above) => {
		for (const child of object.children) {
			const path = `${above}/${partName(child)}`;
			all.push({ path, object: child });
			walk(child, path);
		}
	};
	walk(root, '');
	return all;
}

// find returns the one object whose path ends in the given names.
export function find(root, names) {
	const found = paths(root).filter(({ path }) => path.endsWith(`/${names}`));
	if (found.length !== 1) throw new Error(`expected one part ${names}, found ${found.length}`);
	return found[0].object;
}

// positions returns the world position of each part at each time (seconds,
// ascending): parts -> times -> [x, y, z].
export function positions({ root, clips }, parts, times) {
	const objects = parts.map((names) => find(root, names));
	const mixers = clips.map(({ clip, on }) => {
		const mixer = new AnimationMixer(on);
		const action = mixer.clipAction(clip);
		action.setLoop(LoopOnce);
		action.clampWhenFinished = true;
		action.play();
		return mixer;
	});
	const out = parts.map(() => []);
	for (const time of times) {
		for (const mixer of mixers) mixer.setTime(time);
		root.updateMatrixWorld(true);
		objects.forEach((object, i) => out[i].push(object.getWorldPosition(new Vector3()).toArray().map((v) => rounded(v, 7))));
	}
	return Object.fromEntries(parts.map((names, i) => [names, out[i]]));
}

// matrices returns the world matrix of each part as it stands, three rows of
// four numbers for column vectors.
export function matrices({ root }, parts) {
	root.updateMatrixWorld(true);
	return Object.fromEntries(parts.map((names) => {
		const m = find(root, names).matrixWorld.elements;
		return [names, [0, 1, 2].map((row) => [0, 4, 8, 12].map((column) => rounded(m[column + row], 9)))];
	}));
}

// named returns the paths of all parts that have a name, for tables of whole
// scenes.
export function named(root) {
	return paths(root).map(({ path }) => path.slice(1)).filter((path) => !path.includes('//') && !path.endsWith('/'));
}

function rounded(v, decimals) {
	return Number(v.toFixed(decimals)) + 0;
}
