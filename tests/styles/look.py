#!/usr/bin/python3
"""Looks at pictures of swatches.json and says where they are not what styles/layers.json means.

usage: look.py SWATCHES.json PICTURES [--sheet OUT.png]

PICTURES/<number>.png is swatch <number> alone, on white, in the middle. Colour, size, place, direction, width, dash and hatch
are measured; and the classes of a style must differ in black and white, at the size they are drawn in."""
import json
import os
import sys

import numpy
from osgeo import gdal

gdal.UseExceptions()


def picture(path):
    dataset = gdal.Open(path)
    pixels = dataset.ReadAsArray()
    if dataset.RasterCount == 1:
        table = dataset.GetRasterBand(1).GetColorTable()
        pixels = numpy.array([table.GetColorEntry(i)[:3] for i in range(table.GetCount())])[pixels].transpose(2, 0, 1)
    return pixels[:3].astype(float).transpose(1, 2, 0)


def rgb(text):
    return numpy.array([int(text[i:i + 2], 16) for i in (1, 3, 5)], float)


def ink_of(pixels):
    return (255.0 - pixels).max(axis=2) > 20.0


def grey_of(pixels):
    return pixels @ numpy.array([0.2126, 0.7152, 0.0722])


class Look:
    def __init__(self, swatch, pixels, half_area):
        self.s, self.p, self.half = swatch, pixels, half_area
        self.ink = ink_of(pixels)
        self.middle = pixels.shape[0] // 2
        self.problems = []

    def want(self, holds, what):
        if not holds:
            self.problems.append(what)

    def nearest(self, seen, colours, mine, what):
        far = [float(numpy.linalg.norm(seen - rgb(c))) for c in colours]
        self.want(min(far) == far[mine] or colours[far.index(min(far))] == colours[mine],
                  f'{what} {seen.round()} is nearer to {colours[far.index(min(far))]} than to {colours[mine]}')
        return far[mine]

    def run(self):
        if not self.ink.any():
            return ['blank']
        getattr(self, self.s['geometry'])()
        return self.problems

    def point(self):
        mark = self.s['class']['mark']
        rows, columns = numpy.nonzero(self.ink)
        height, width = rows.max() - rows.min() + 1, columns.max() - columns.min() + 1
        tick = mark['shape'].endswith('tick')
        if tick:
            self.tick(mark, rows, columns)
            return
        size = mark['size']
        self.want(0.75 * size <= max(height, width) <= size + 2 * mark['outline_width'] + 3,
                  f'{width} x {height} pixels, of size {size}')
        self.want(abs((rows.max() + rows.min()) / 2 - self.middle) <= 2.5 and
                  abs((columns.max() + columns.min()) / 2 - self.middle) <= 2.5, 'off its place')
        m = self.middle
        seen = self.p[m, m]
        colours = [c['mark']['fill'] for c in self.s['others']]
        far = self.nearest(seen, colours, self.s['others'].index(self.s['class']), 'the middle')
        self.want(far <= 90, f'the middle {seen.round()} is not {mark["fill"]}')

    def tick(self, mark, rows, columns):
        size = mark['size']
        x, y = columns - columns.mean(), rows.mean() - rows
        length = numpy.hypot(numpy.ptp(x), numpy.ptp(y))
        self.want(0.7 * size <= length <= 1.4 * size + 3, f'a tick of {length:.0f} pixels, not {size}')
        angle = 0.5 * numpy.degrees(numpy.arctan2(2 * (x * y).mean(), (x * x).mean() - (y * y).mean()))
        azimuth = (90.0 - angle) % 180.0
        off = abs((azimuth - self.s['azimuth'] + 90.0) % 180.0 - 90.0)
        self.want(off <= 8.0, f'a tick towards {azimuth:.0f} degrees, not {self.s["azimuth"]:.0f}')
        seen = self.p[self.ink]
        far = numpy.linalg.norm(seen - rgb(mark['fill']), axis=1).min()
        self.want(far <= 90, f'no pixel is {mark["fill"]}')

    def line(self):
        self.stroke(self.ink, self.p, self.s['class']['line'],
                    [c['line']['colour'] for c in self.s['others']], self.s['others'].index(self.s['class']))

    def stroke(self, ink, pixels, line, colours, mine):
        """Ink of a horizontal line."""
        thick = ink.sum(axis=0).max()
        self.want(abs(thick - line['width']) <= 1.6, f'{thick} pixels wide, not {line["width"]}')
        share = ink.any(axis=0).mean()
        dash = line.get('dash')
        wanted = sum(dash[::2]) / sum(dash) if dash else 1.0
        # Soft ends of strokes make them longer by up to a pixel, and short ones pale.
        slack = 0.06 + (len(dash) / 2 * 1.4 / sum(dash) if dash else 0.0)
        self.want(abs(share - wanted) <= slack, f'{share:.2f} of the line is drawn, not {wanted:.2f}')
        if line['width'] >= 1.0:
            # All the ink across the line, however it is spread over rows.
            across = (255.0 - pixels).sum(axis=0) / line['width']
            most = across.sum(axis=1) >= numpy.quantile(across.sum(axis=1), 0.9)
            self.nearest(255.0 - across[most].mean(axis=0), colours, mine, 'the line')

    def area(self):
        s, area = self.s, self.s['class']['area']
        m, h = self.middle, int(self.half)
        inner = self.p[m - h + 8:m + h - 8, m - h + 8:m + h - 8].reshape(-1, 3)
        blend = [255.0 + (rgb(c['area']['fill']) - 255.0) * c['area']['opacity'] for c in s['others']]
        mine = s['others'].index(s['class'])
        seen = numpy.median(inner, axis=0)
        far = [float(numpy.linalg.norm(seen - b)) for b in blend]
        self.want(far[mine] == min(far) and far[mine] <= 15.0, f'filled {seen.round()}, not {blend[mine].round()}')
        over = s.get('over', {}).get('area', {})
        dark = (grey_of(inner) < grey_of(blend[mine]) - 60.0).mean()
        if over.get('hatch'):
            self.want(0.05 <= dark <= 0.45, f'{dark:.2f} of it is hatched')
        else:
            self.want(dark < 0.01, f'{dark:.2f} of it is hatched')
        outline = over.get('outline') or area.get('outline')
        if outline and outline['width'] >= 1.0:
            edge = self.p[m - h - 6:m - h + 6, m - h + 8:m + h - 8]
            far = numpy.linalg.norm(edge - rgb(outline['colour']), axis=2)
            dark = far < 150
            if outline['width'] <= 1.0:  # it may be spread over two
                dark = grey_of(edge) < grey_of(blend[mine]) - 30.0
            thick = dark.sum(axis=0).max()
            self.want(abs(thick - outline['width']) <= 1.6, f'an edge of {thick} pixels, not {outline["width"]}')
            self.want((dark.any(axis=0).mean() < 0.97) == ('dash' in outline), 'dashed where it should not be, or not where it should')


# Marks and lines differ by shape; areas by how dark they are alone (own choices).
LEAST_DIFFERENCE = {'point': 0.12, 'line': 0.1, 'area': 0.02}


def tell_apart(a, b):
    """How much two pictures differ in black and white: from 0 to 1 a pixel with ink, on average."""
    either = ink_of(a) | ink_of(b)
    return abs(grey_of(a) - grey_of(b))[either].mean() / 255.0


def sheet(path, pictures, columns=12):
    h, w = pictures[0].shape[:2]
    rows = -(-len(pictures) // columns)
    all_of_it = numpy.full((rows * (h + 2), columns * (w + 2), 3), 128.0)
    for i, p in enumerate(pictures):
        y, x = i // columns * (h + 2), i % columns * (w + 2)
        all_of_it[y:y + h, x:x + w] = p
    memory = gdal.GetDriverByName('MEM').Create('', all_of_it.shape[1], all_of_it.shape[0], 3)
    memory.WriteArray(all_of_it.transpose(2, 0, 1).astype(numpy.uint8))
    gdal.GetDriverByName('PNG').CreateCopy(path, memory)


def main():
    listed = json.load(open(sys.argv[1], encoding='utf-8'))
    pictures = [picture(os.path.join(sys.argv[2], f'{i}.png')) for i in range(len(listed['swatches']))]
    if '--sheet' in sys.argv:
        sheet(sys.argv[sys.argv.index('--sheet') + 1], pictures)
    bad = 0
    looks = {}
    for number, (s, pixels) in enumerate(zip(listed['swatches'], pictures)):
        name = f'{s["style"]} {s["class"]["id"]} ({s["case"]})'
        for problem in Look(s, pixels, listed['half_area']).run():
            print(f'{name}: {problem} [{number}.png]')
            bad += 1
        if not s.get('over'):
            looks.setdefault(s['style'], {}).setdefault(s['class']['id'], pixels)
    least = {}
    listed_geometry = {s['style']: s['geometry'] for s in listed['swatches']}
    for style, classes in looks.items():
        ids = list(classes)
        pairs = [(tell_apart(classes[a], classes[b]), a, b) for i, a in enumerate(ids) for b in ids[i + 1:]]
        least[style] = min(pairs)
        if min(pairs)[0] < LEAST_DIFFERENCE[listed_geometry[style]]:
            print(f'{style}: {min(pairs)[1]} and {min(pairs)[2]} are much alike in black and white: {min(pairs)[0]:.2f}')
            bad += 1
    for style, (share, a, b) in least.items():
        print(f'{style}: in black and white {a} and {b} differ least: {share:.2f}')
    print(f'{len(pictures)} pictures, {bad} problems')
    sys.exit(1 if bad else 0)


main()
