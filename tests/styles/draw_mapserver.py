#!/usr/bin/python3
"""Draws every swatch by MapServer (Debian's mapserver-bin), with what `linewood styles --format mapserver` writes.

usage: draw_mapserver.py SWATCHES.json PROGRAM SYMBOLS PICTURES"""
import json
import os
import subprocess
import sys
import tempfile
import urllib.parse

TYPES = {'point': 'POINT', 'line': 'LINE', 'area': 'POLYGON'}
CONFIG = 'CONFIG\n  ENV\n    MS_MAP_PATTERN "."\n  END\n  MAPS\n  END\nEND\n'
MAP = '''MAP
  NAME swatches
  EXTENT 0 0 1000000 10000000
  SIZE 100 100
  RESOLUTION 96
  DEFRESOLUTION 96
  UNITS METERS
  IMAGECOLOR 255 255 255
  IMAGETYPE PNG24
  OUTPUTFORMAT
    NAME PNG24
    DRIVER AGG/PNG
    MIMETYPE "image/png"
    IMAGEMODE RGB
  END
  SYMBOLSET "{symbols}"
  PROJECTION
    "init=epsg:32615"
  END
  WEB
    METADATA
      "ows_enable_request" "*"
      "wms_srs" "EPSG:32615"
      "wms_title" "swatches"
    END
  END
  LAYER
    NAME {layer}
    TYPE {type}
    STATUS ON
    CONNECTIONTYPE OGR
    CONNECTION "{file}"
    DATA "{layer}"
    PROJECTION
      "init=epsg:32615"
    END
    METADATA
      "wms_title" "{layer}"
    END
  END
END
'''


def sld_of(style, program):
    return subprocess.run([program, 'styles', style, '--format', 'mapserver'],
                          capture_output=True, check=True, encoding='utf-8').stdout


def draw(swatch, sld, window, symbols, work, target):
    map_file = os.path.join(work, 'swatches.map')
    with open(map_file, 'w', encoding='utf-8') as out:
        out.write(MAP.format(layer=swatch['layer'], type=TYPES[swatch['geometry']], file=swatch['file'], symbols=symbols))
    half = window / 2
    box = (swatch['x'] - half, swatch['y'] - half, swatch['x'] + half, swatch['y'] + half)
    query = urllib.parse.urlencode({
        'map': map_file, 'SERVICE': 'WMS', 'VERSION': '1.1.1', 'REQUEST': 'GetMap', 'LAYERS': swatch['layer'],
        'STYLES': '', 'SRS': 'EPSG:32615', 'BBOX': ','.join(map(str, box)), 'WIDTH': window, 'HEIGHT': window,
        'FORMAT': 'image/png', 'SLD_BODY': sld})
    environment = dict(os.environ, MAPSERVER_CONFIG_FILE=os.path.join(work, 'mapserver.conf'),
                       REQUEST_METHOD='GET', QUERY_STRING=query)
    answer = subprocess.run(['mapserv'], env=environment, capture_output=True, check=False).stdout
    head, _, body = answer.partition(b'\r\n\r\n')
    if b'image/png' not in head:
        sys.exit(f'{swatch["style"]}: {body[:500].decode(errors="replace")}')
    with open(target, 'wb') as out:
        out.write(body)


def main():
    listed = json.load(open(sys.argv[1], encoding='utf-8'))
    program, symbols, pictures = sys.argv[2], os.path.abspath(sys.argv[3]), sys.argv[4]
    os.makedirs(pictures, exist_ok=True)
    with tempfile.TemporaryDirectory() as work:
        with open(os.path.join(work, 'mapserver.conf'), 'w', encoding='utf-8') as out:
            out.write(CONFIG)
        styles = {}
        for number, swatch in enumerate(listed['swatches']):
            if swatch['style'] not in styles:
                styles[swatch['style']] = sld_of(swatch['style'], program)
            draw(swatch, styles[swatch['style']], listed['window'], symbols, work, os.path.join(pictures, f'{number}.png'))


main()
