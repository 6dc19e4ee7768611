import { describe, expect, test } from 'vitest';
import type { Page, PaperPart } from './page.ts';
import { escapeXml, pageToSvg } from './svg.ts';

function page(...parts: PaperPart[]): Page {
  return { widthMm: 100, heightMm: 50, title: 'Plan "1" & more', view: null, parts };
}

const TEXT = {
  kind: 'text',
  at: [10, 20],
  text: '',
  sizeMm: 3,
  color: '#000000',
  anchor: 'start',
  bold: false,
  turnDeg: 0,
} as const;

describe('text in SVG', () => {
  test('can never become markup', () => {
    const svg = pageToSvg(page({ ...TEXT, text: `</text><script>alert("x")</script>&amp; 'y'` }));
    expect(svg).not.toContain('<script');
    expect(svg).toContain(
      '&lt;/text&gt;&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt;&amp;amp; &#39;y&#39;',
    );
    expect(svg).toContain('aria-label="Plan &quot;1&quot; &amp; more"');
  });

  test('loses the signs that XML forbids and no others', () => {
    expect(escapeXml('a\u0000b\u0007c\ud800d\ufffee')).toBe('abcde');
    expect(escapeXml('Ø ñ 松 😀 ½')).toBe('Ø ñ 松 😀 ½');
  });

  test('the address of a picture cannot leave its attribute', () => {
    const picture = {
      kind: 'picture',
      pictureId: 'p',
      at: [0, 0],
      widthMm: 10,
      heightMm: 10,
      turnDeg: 0,
      opacity: 1,
    } as const;
    const svg = pageToSvg(page(picture), () => 'blob:x" onload="alert(1)');
    expect(svg).toContain('href="blob:x&quot; onload=&quot;alert(1)"');
    expect(pageToSvg(page(picture))).not.toContain('<image');
  });
});

describe('marks in SVG', () => {
  test('a sheet has its size in millimetres', () => {
    expect(pageToSvg(page())).toContain('width="100mm" height="50mm" viewBox="0 0 100 50"');
  });

  test('rings with holes are filled even-odd, dashes and opacity are kept', () => {
    const square = (a: number, b: number) =>
      [
        [a, a],
        [b, a],
        [b, b],
      ] as const;
    const svg = pageToSvg(
      page({
        kind: 'path',
        lines: [square(0, 9), square(2, 3)],
        closed: true,
        fill: '#aabbcc',
        fillOpacity: 0.5,
        pen: { color: '#112233', widthMm: 0.25, dashMm: [1, 0.5] },
      }),
    );
    expect(svg).toContain('d="M0 0L9 0L9 9ZM2 2L3 2L3 3Z" fill-rule="evenodd"');
    expect(svg).toContain('fill="#aabbcc" fill-opacity="0.5"');
    expect(svg).toContain('stroke="#112233" stroke-width="0.25"');
    expect(svg).toContain('stroke-dasharray="1 0.5"');
  });

  test('what is clipped stands in an inner window of its own', () => {
    const svg = pageToSvg(
      page({
        kind: 'clip',
        window: { x: 5, y: 6, w: 20, h: 10 },
        parts: [{ kind: 'circle', at: [7, 8], radiusMm: 1, fill: '#000000' }],
      }),
    );
    expect(svg).toContain(
      '<svg x="5" y="6" width="20" height="10" viewBox="5 6 20 10" overflow="hidden"><circle',
    );
    expect(svg).not.toContain('id=');
  });

  test('text turns against the clock', () => {
    expect(pageToSvg(page({ ...TEXT, text: 'up', turnDeg: 90 }))).toContain('rotate(-90 10 20)');
  });
});
