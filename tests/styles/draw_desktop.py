#!/usr/bin/python3
"""Draws every swatch by the desktop GIS of Debian (python3-qgis), without a screen, with the styles that the GeoPackage
itself holds: the default one as it is found on opening, the others by name.

usage: draw_desktop.py SWATCHES.json PICTURES"""
import json
import os
import sys
import tempfile

os.environ.setdefault('QT_QPA_PLATFORM', 'offscreen')
os.environ.setdefault('XDG_RUNTIME_DIR', tempfile.gettempdir())

from qgis.PyQt.QtCore import QSize  # noqa: E402
from qgis.PyQt.QtGui import QColor  # noqa: E402
from qgis.PyQt.QtXml import QDomDocument  # noqa: E402
from qgis.core import (QgsApplication, QgsMapRendererSequentialJob, QgsMapSettings, QgsRectangle,  # noqa: E402
                       QgsVectorLayer)


def opened(swatch):
    """The layer with its style, and what is wrong with it."""
    layer = QgsVectorLayer(f'{swatch["file"]}|layername={swatch["layer"]}', swatch['layer'], 'ogr')
    if not layer.isValid():
        return layer, 'the layer does not open'
    if swatch['default']:
        message, found = layer.loadDefaultStyle()
        if not found:
            return layer, f'no default style was found: {message}'
    else:
        _, ids, names, _, message = layer.listStylesInDatabase()
        if swatch['style'] not in names:
            return layer, f'no style of that name among {names}: {message}'
        text, message = layer.getStyleFromDatabase(ids[names.index(swatch['style'])])
        document = QDomDocument()
        document.setContent(text)
        done, message = layer.importNamedStyle(document)
        if not done:
            return layer, message
    if layer.renderer() is None or layer.renderer().type() != 'RuleRenderer':
        return layer, 'the style is not the one that was stored'
    labels = [rule.label() for rule in layer.renderer().rootRule().children()]
    wanted = [c['label'] for c in swatch['others']]
    if labels[:len(wanted)] != wanted:
        return layer, f'the legend says {labels}'
    return layer, ''


def draw(layer, swatch, window, target):
    half = window / 2
    settings = QgsMapSettings()
    settings.setLayers([layer])
    settings.setDestinationCrs(layer.crs())
    settings.setOutputSize(QSize(window, window))
    settings.setOutputDpi(96)
    settings.setBackgroundColor(QColor('white'))
    settings.setExtent(QgsRectangle(swatch['x'] - half, swatch['y'] - half, swatch['x'] + half, swatch['y'] + half))
    job = QgsMapRendererSequentialJob(settings)
    job.start()
    job.waitForFinished()
    job.renderedImage().save(target)
    return [error.message for error in job.errors()]


def main():
    listed = json.load(open(sys.argv[1], encoding='utf-8'))
    pictures = sys.argv[2]
    os.makedirs(pictures, exist_ok=True)
    QgsApplication.setPrefixPath('/usr', True)
    application = QgsApplication([], False)
    application.initQgis()
    layers = {}
    bad = 0
    for number, swatch in enumerate(listed['swatches']):
        if swatch['style'] not in layers:
            layers[swatch['style']] = opened(swatch)
            if layers[swatch['style']][1]:
                print(f'{swatch["style"]}: {layers[swatch["style"]][1]}')
                bad += 1
        for message in draw(layers[swatch['style']][0], swatch, listed['window'], os.path.join(pictures, f'{number}.png')):
            print(f'{swatch["style"]}: {message}')
            bad += 1
    print(f'{len(layers)} styles opened, {bad} problems')
    sys.stdout.flush()
    os._exit(1 if bad else 0)  # what closes at the end may crash after all is done


main()
