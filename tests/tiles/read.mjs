// read.mjs FOLDER: decodes every tile z/x/y.pbf and prints, zoom by zoom, tiles, bytes, poles in their own tile,
// poles that counted points stand for, and poles to be replaced among the first. Fails on a tile that cannot be decoded,
// has another layer or extent, a feature outside the buffer, or a pole twice.
import fs from 'node:fs';
import path from 'node:path';
import { VectorTile } from '@mapbox/vector-tile';
import * as pbf from 'pbf';

const Reader = pbf.PbfReader ?? pbf.default;
const folder = process.argv[2];
const buffer = 64;

function require(holds, file, what) {
    if (!holds) {
        throw new Error(`${file}: ${what}`);
    }
}

function readTile(file, sums, seen) {
    const bytes = fs.readFileSync(file);
    sums.tiles += 1;
    sums.bytes += bytes.length;
    const { layers } = new VectorTile(new Reader(bytes));
    require(Object.keys(layers).join() === 'poles', file, 'layers');
    const layer = layers.poles;
    require(layer.extent === 4096 && layer.version === 2 && layer.length > 0, file, 'layer');
    for (let i = 0; i < layer.length; i += 1) {
        const feature = layer.feature(i);
        const [[{ x, y }]] = feature.loadGeometry();
        require(feature.type === 1, file, 'no point');
        require(Math.min(x, y) >= -buffer && Math.max(x, y) < 4096 + buffer, file, 'outside');
        const own = x >= 0 && x < 4096 && y >= 0 && y < 4096;
        if (feature.id === undefined) {
            require(own && feature.properties.count > 0, file, 'a point that counts nothing');
            sums.counted += feature.properties.count;
        } else if (own) {
            require(!seen.has(feature.id), file, `pole ${feature.id} twice`);
            seen.add(feature.id);
            sums.kept += 1;
            sums.replace += feature.properties.verdict === 'replace' ? 1 : 0;
        }
    }
}

const zooms = fs.readdirSync(folder).filter((name) => /^\d+$/.test(name));
for (const zoom of zooms.sort((a, b) => a - b)) {
    const sums = { tiles: 0, bytes: 0, kept: 0, counted: 0, replace: 0 };
    const seen = new Set();
    for (const column of fs.readdirSync(path.join(folder, zoom))) {
        for (const row of fs.readdirSync(path.join(folder, zoom, column))) {
            readTile(path.join(folder, zoom, column, row), sums, seen);
        }
    }
    console.log(
        `${zoom} ${sums.tiles} ${sums.bytes} ${sums.kept} ${sums.counted} ${sums.replace}`);
}
