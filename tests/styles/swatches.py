#!/usr/bin/python3
"""Features of every class of every style at known places, in datasets that carry the styles as the tool wrote them.

usage: swatches.py layers.json FOLDER FILE.gpkg...

Each FILE is copied to FOLDER and the layers that have styles are emptied; then each class of each style gets features of
its own: at both ends of a range, and absent and unknown values for the rest. FOLDER/swatches.json lists them, with what is to
be seen there."""
import json
import os
import shutil
import sys

from osgeo import gdal, ogr

gdal.UseExceptions()
STEP = 1000.0  # metres from one to the next
WINDOW = 101  # pixels of a metre; a pixel in the middle
AZIMUTH = 60.0  # of ticks
HALF_AREA = 30.0


def cases_of(cls, whole):
    """Values that are of the class, with a name each."""
    if cls.get('rest'):
        return [('absent', None)]
    if 'value' in cls:
        return [('value', cls['value'])]
    least = 1 if whole else 1e-6
    out = []
    if 'from' in cls:
        out.append(('from', cls['from']))
    if 'to' in cls:
        out.append(('below', cls['to'] - least))
    return out


def swatches_of(style, whole):
    """Every feature of a style: the fields it has and the classes it is of."""
    field = style['field']
    for cls in style['classes']:
        for name, value in cases_of(cls, whole):
            yield {'class': cls, 'case': name, 'values': {field: value}}
        if cls.get('rest') and 'value' in style['classes'][0] and style['classes'][0]['value'] not in (True, False):
            yield {'class': cls, 'case': 'unknown', 'values': {field: 'never heard of'}}
    for over in style.get('over', []):
        for name, value in cases_of(over, False):
            under = style['classes'][2]
            yield {'class': under, 'case': over['id'] + ' ' + name, 'over': over,
                   'values': {field: under['from'], over['field']: value}}


def geometry_of(kind, x, y):
    if kind == 'point':
        return f'POINT ({x} {y})'
    if kind == 'line':
        return f'MULTILINESTRING (({x - 2 * WINDOW} {y}, {x + 2 * WINDOW} {y}))'
    h = HALF_AREA
    ring = ', '.join(f'{x + a * h} {y + b * h}' for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)))
    return f'MULTIPOLYGON ((({ring})))'


def fill(dataset, style, row, listed):
    layer = dataset.GetLayerByName(style['layer'])
    definition = layer.GetLayerDefn()
    whole = definition.GetFieldDefn(definition.GetFieldIndex(style['field'])).GetType() in (ogr.OFTInteger, ogr.OFTInteger64)
    for column, swatch in enumerate(swatches_of(style, whole)):
        x, y = 320000.0 + column * STEP, 4620000.0 + row * STEP
        feature = ogr.Feature(definition)
        values = dict(swatch['values'])
        if 'rotate' in style:
            values.setdefault(style['rotate'], AZIMUTH)
            if values[style['rotate']] == 0:  # the end of a range is a direction too
                swatch['azimuth'] = 0.0
        for name, value in values.items():
            if value is not None:
                feature.SetField(name, int(value) if isinstance(value, bool) else value)
        wkt = geometry_of(style['geometry'], x, y)
        shape = ogr.CreateGeometryFromWkt(wkt)
        if layer.GetGeomType() == ogr.wkbLineString:
            shape = ogr.ForceToLineString(shape)
        feature.SetGeometry(shape)
        layer.CreateFeature(feature)
        swatch.update(style=style['name'], layer=style['layer'], x=x, y=y, default=style.get('default', False),
                      geometry=style['geometry'], others=style['classes'])
        swatch.setdefault('azimuth', AZIMUTH)
        listed.append(swatch)


def main():
    styles = json.load(open(sys.argv[1], encoding='utf-8'))['styles']
    folder = sys.argv[2]
    os.makedirs(folder, exist_ok=True)
    listed = []
    done = set()
    for number, file in enumerate(sys.argv[3:]):
        copy = os.path.join(folder, os.path.basename(file))
        shutil.copy(file, copy)
        dataset = gdal.OpenEx(copy, gdal.OF_VECTOR | gdal.OF_UPDATE)
        assert dataset.GetLayerByName('layer_styles') is not None, file + ' has no table of styles'
        names = [dataset.GetLayer(i).GetName() for i in range(dataset.GetLayerCount())]
        here = [s for s in styles if s['layer'] in names and s['name'] not in done]
        for layer in sorted({s['layer'] for s in here}):
            dataset.ExecuteSQL(f'DELETE FROM "{layer}"')
        dataset = None  # closed, so that the counts are true
        dataset = gdal.OpenEx(copy, gdal.OF_VECTOR | gdal.OF_UPDATE)
        for row, style in enumerate(here):
            before = len(listed)
            fill(dataset, style, row + 100 * number, listed)
            for swatch in listed[before:]:
                swatch['file'] = copy
            done.add(style['name'])
        dataset = None
    missing = {s['name'] for s in styles} - done
    assert not missing, f'no layer for {sorted(missing)}'
    with open(os.path.join(folder, 'swatches.json'), 'w', encoding='utf-8') as out:
        json.dump({'window': WINDOW, 'half_area': HALF_AREA, 'swatches': listed}, out, indent=1)
    print(f'{len(listed)} features of {len(done)} styles')


main()
