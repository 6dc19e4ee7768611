import { HALO_EM, type CirclePart, type Page, type PaperPart, type PaperPen, type PathPart } from './page.ts';

/** Makes text safe inside SVG, in elements and in quoted attributes; signs that XML forbids are left out. */
export function escapeXml(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
}

/** A number for an attribute: thousandths of a millimetre. */
function n(value: number): string {
  const text = value.toFixed(3).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

function strokeOf(pen: PaperPen | undefined): string {
  if (!pen) return ' stroke="none"';
  const dash = pen.dashMm ? ` stroke-dasharray="${pen.dashMm.map(n).join(' ')}"` : '';
  const cap = pen.dashMm ? 'butt' : 'round';
  return ` stroke="${pen.color}" stroke-width="${n(pen.widthMm)}" stroke-linecap="${cap}" stroke-linejoin="round"${dash}`;
}

function paintOf(part: PathPart | CirclePart): string {
  const opacity = part.fill && part.fillOpacity !== undefined ? ` fill-opacity="${n(part.fillOpacity)}"` : '';
  return ` fill="${part.fill ?? 'none'}"${opacity}${strokeOf(part.pen)}`;
}

type PictureUrl = (pictureId: string) => string | null;

function partSvg(part: PaperPart, url: PictureUrl): string {
  switch (part.kind) {
    case 'path': {
      const d = part.lines
        .filter((line) => line.length > 1)
        .map((line) => `M${line.map(([x, y]) => `${n(x)} ${n(y)}`).join('L')}${part.closed ? 'Z' : ''}`)
        .join('');
      return d === '' ? '' : `<path d="${d}" fill-rule="evenodd"${paintOf(part)}/>`;
    }
    case 'circle':
      return `<circle cx="${n(part.at[0])}" cy="${n(part.at[1])}" r="${n(part.radiusMm)}"${paintOf(part)}/>`;
    case 'text': {
      const [x, y] = part.at;
      const turn = part.turnDeg === 0 ? '' : ` transform="rotate(${n(-part.turnDeg)} ${n(x)} ${n(y)})"`;
      const anchor = part.anchor === 'start' ? '' : ` text-anchor="${part.anchor}"`;
      const weight = part.bold ? ' font-weight="700"' : '';
      const rim = part.halo
        ? ` stroke="${part.halo}" stroke-width="${n(2 * HALO_EM * part.sizeMm)}" stroke-linejoin="round" paint-order="stroke"`
        : '';
      return `<text x="${n(x)}" y="${n(y)}" font-size="${n(part.sizeMm)}" fill="${part.color}"${anchor}${weight}${rim}${turn}>${escapeXml(part.text)}</text>`;
    }
    case 'picture': {
      const [x, y] = part.at;
      const place = `x="${n(x)}" y="${n(y)}" width="${n(part.widthMm)}" height="${n(part.heightMm)}" transform="rotate(${n(-part.turnDeg)} ${n(x)} ${n(y)})"`;
      const href = url(part.pictureId);
      if (href === null) return `<rect ${place} fill="none" stroke="#a6abad" stroke-width="0.18"/>`;
      return `<image ${place} href="${escapeXml(href)}" opacity="${n(part.opacity)}" preserveAspectRatio="none"/>`;
    }
    case 'clip': {
      // An inner svg clips by itself and needs no id, so that several sheets can stand in one document.
      const { x, y, w, h } = part.window;
      const place = `x="${n(x)}" y="${n(y)}" width="${n(w)}" height="${n(h)}"`;
      const inner = part.parts.map((child) => partSvg(child, url)).join('');
      return `<svg ${place} viewBox="${n(x)} ${n(y)} ${n(w)} ${n(h)}" overflow="hidden">${inner}</svg>`;
    }
  }
}

/**
 * A sheet as one SVG document in millimetres, from the same marks as the PDF. `pictureUrl` gives the address of a
 * picture (`null`: its outline is drawn instead).
 */
export function pageToSvg(page: Page, pictureUrl: PictureUrl = () => null): string {
  const { widthMm: w, heightMm: h } = page;
  const inner = page.parts.map((part) => partSvg(part, pictureUrl)).join('');
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${n(w)}mm" height="${n(h)}mm" viewBox="0 0 ${n(w)} ${n(h)}"` +
    ` font-family="'Noto Sans', sans-serif" style="font-kerning:none" role="img" aria-label="${escapeXml(page.title)}">` +
    `<rect width="${n(w)}" height="${n(h)}" fill="#ffffff"/>${inner}</svg>`
  );
}
