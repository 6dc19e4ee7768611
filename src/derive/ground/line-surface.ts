import type { Point } from '../../base/point.ts';
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
  };
}
