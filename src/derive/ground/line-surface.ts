import type { Point } from '../../base/point.ts';
import { boxRing, type Face } from './faces.ts';
import { stationOf, type Spot, type SpotLine } from './spots.ts';
import type { Surface } from './surface.ts';

const SAME_STATION = 0.001;

/**
 * Ground of levels that lie on one line: it slopes from level to level along the line, is level across it, and
 * keeps the slope of the end piece beyond the ends.
 */
export function lineSurface(spots: readonly Spot[], line: SpotLine): Surface {
  const stations: number[] = [];
  const heights: number[] = [];
  const counts: number[] = [];
  const sorted = spots
    .map((spot) => ({ station: stationOf(line, spot.x, spot.y), zM: spot.zM }))
    .sort((a, b) => a.station - b.station || a.zM - b.zM);
  for (const { station, zM } of sorted) {
    const last = stations.length - 1;
    if (last >= 0 && station - stations[last]! < SAME_STATION) {
      heights[last] = (heights[last]! * counts[last]! + zM) / (counts[last]! + 1);
      counts[last]! += 1;
    } else {
      stations.push(station);
      heights.push(zM);
      counts.push(1);
    }
  }
  const pieces = stations.length - 1;

  function slopeOf(piece: number): number {
    return pieces < 1
      ? 0
      : (heights[piece + 1]! - heights[piece]!) / (stations[piece + 1]! - stations[piece]!);
  }
  function pieceAt(station: number): number {
    let low = 0;
    let high = Math.max(0, pieces - 1);
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (stations[middle]! <= station) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  return {
    heightAt(p) {
      const station = stationOf(line, p[0], p[1]);
      const piece = pieceAt(station);
      const inRange =
        station >= stations[0]! - SAME_STATION && station <= stations[stations.length - 1]! + SAME_STATION;
      return {
        zM: heights[piece]! + slopeOf(piece) * (station - stations[piece]!),
        how: inRange ? 'inside' : 'outside',
      };
    },
    gradientAt(p) {
      const slope = slopeOf(pieceAt(stationOf(line, p[0], p[1])));
      return [slope * line.dirX, slope * line.dirY];
    },
    creases(a: Point, b: Point) {
      const from = stationOf(line, a[0], a[1]);
      const span = stationOf(line, b[0], b[1]) - from;
      const shares: number[] = [];
      if (span === 0) return shares;
      for (let k = 1; k < pieces; k++) {
        const share = (stations[k]! - from) / span;
        if (share > 0 && share < 1) shares.push(share);
      }
      return shares;
    },
    faces(box) {
      const corners = boxRing(box);
      const along = corners.map(([x, y]) => stationOf(line, x, y));
      const across = corners.map(([x, y]) => (y - line.originY) * line.dirX - (x - line.originX) * line.dirY);
      const right = Math.min(...across) - 1;
      const left = Math.max(...across) + 1;
      const first = stations[0]!;
      const last = stations[stations.length - 1]!;
      const place = (station: number, off: number): Point => [
        line.originX + station * line.dirX - off * line.dirY,
        line.originY + station * line.dirY + off * line.dirX,
      ];
      const strip = (from: number, to: number, piece: number, how: Face['how']): Face => {
        const slope = slopeOf(piece);
        const z = (station: number) => heights[piece]! + slope * (station - stations[piece]!);
        return {
          ring: [place(from, right), place(to, right), place(to, left), place(from, left)],
          zM: [z(from), z(to), z(to), z(from)],
          gradient: [slope * line.dirX, slope * line.dirY],
          how,
        };
      };
      const faces: Face[] = [];
      const lowest = Math.min(...along) - 1;
      const highest = Math.max(...along) + 1;
      if (lowest < first) faces.push(strip(lowest, first, 0, 'outside'));
      for (let k = 0; k < pieces; k++) {
        if (stations[k + 1]! >= lowest && stations[k]! <= highest)
          faces.push(strip(stations[k]!, stations[k + 1]!, k, 'inside'));
      }
      if (highest > last) faces.push(strip(last, highest, Math.max(0, pieces - 1), 'outside'));
      return faces;
    },
  };
}
