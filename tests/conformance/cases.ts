import { describe, expect, test } from 'vitest';

/** One value from outside. */
export interface Case {
  readonly name: string;
  readonly got: () => number;
  readonly expected: number;
  /** Largest difference allowed: of the value itself, or as a share of it. */
  readonly within: { readonly absolute: number } | { readonly share: number };
  readonly source: string;
}

/** Sources that several subjects share. */
export const SOURCE = {
  hydraulicInstitute:
    'Hydraulic Institute Engineering Data Book, friction tables for schedule 40 steel, water of 60 °F (1990)',
  illinois: '77 Illinois Administrative Code 906, Appendix A, Exhibit I, friction in PVC pipe, C = 150',
  newJersey: 'New Jersey Administrative Code 7:9A-9.7, flow through holes in plastic laterals',
  uc: 'University of California Agriculture and Natural Resources: flow to flush a lateral at 1 ft/s',
  library: 'test suite of the open library "fluids" for Python',
  engine:
    'EPANET engine 2.3.5 (U.S. EPA, public domain), run with Darcy-Weisbach, viscosity 1.004e-6 m2/s, g 9.81456 m/s2',
  exact: 'closed form, worked out by hand',
  manual: 'EPANET 2.2 user manual, EPA/600/R-20/133 (2020)',
  trade: 'inputs of a public exam question; result worked out by hand from the formula',
} as const;

/** Cases on one subject. */
export interface Table {
  readonly subject: string;
  readonly cases: readonly Case[];
}

export function table(subject: string, cases: readonly Case[]): Table {
  return { subject, cases };
}

/** How many cases there are, from how many sources, in words. */
export function countOf(cases: readonly Case[]): string {
  const sources = new Set(cases.map((c) => c.source)).size;
  return `${cases.length} cases from ${sources} ${sources === 1 ? 'source' : 'sources'}`;
}

/** Turns a table into tests. */
export function conform({ subject, cases }: Table): void {
  describe(`${subject}: ${countOf(cases)}`, () => {
    test.each(cases)('$name', ({ got, expected, within, source }) => {
      const allowed = 'absolute' in within ? within.absolute : within.share * Math.abs(expected);
      const value = got();
      const difference = Math.abs(value - expected);
      expect(
        difference <= allowed,
        `got ${value}, expected ${expected}, differs by ${difference}, allowed ${allowed}; source: ${source}`,
      ).toBe(true);
    });
  });
}
