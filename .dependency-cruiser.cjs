// Which folder may import which. Folders stand in ranks; a file imports from its own folder and from lower ranks.
const RANKS = [
  ['base'],
  ['hydraulics', 'catalog'],
  ['plan'],
  ['derive'],
  ['layout', 'drawing'],
  ['editor', 'sheet'],
  ['screen'],
  ['app'],
];

/** Exceptions to "all lower ranks": the plan is saved facts and knows no hydraulics. */
const NOT_FROM = { plan: ['hydraulics'] };

/** Packages that stay in the folders named. */
const PACKAGES = [
  { packages: ['konva', 'react', 'react-dom', 'react-konva'], folders: ['screen', 'app'] },
  { packages: ['zustand'], folders: ['editor', 'screen'] },
  { packages: ['idb', 'comlink'], folders: ['app'] },
  { packages: ['jspdf'], folders: ['sheet'] },
  { packages: ['papaparse'], folders: ['app'] },
  { packages: ['clipper2-ts'], folders: ['base'] },
];

const TESTS = '\\.(test|property)\\.tsx?$';

const folderRules = RANKS.flatMap((rank, i) =>
  rank.map((folder) => {
    const below = RANKS.slice(0, i).flat();
    const allowed = [folder, ...below].filter((name) => !(NOT_FROM[folder] ?? []).includes(name));
    return {
      name: `${folder}-imports-${allowed.length > 1 ? 'only-lower-ranks' : 'only-itself'}`,
      comment: `${folder} may import from: ${allowed.join(', ')}`,
      severity: 'error',
      from: { path: `^src/${folder}/` },
      to: { path: '^(src|e2e|tests|scripts)/', pathNot: `^src/(${allowed.join('|')})/` },
    };
  }),
);

const packageRules = PACKAGES.map(({ packages, folders }) => ({
  name: `${packages[0]}-only-in-${folders.join('-and-')}`,
  comment: `${packages.join(', ')} may be imported in ${folders.join(', ')} only`,
  severity: 'error',
  from: { path: '^src/', pathNot: `^src/(${folders.join('|')})/` },
  to: { path: `(^|node_modules/)(@types/)?(${packages.join('|')})(/|$)` },
}));

const folders = RANKS.flat().join('|');

module.exports = {
  forbidden: [
    ...folderRules,
    ...packageRules,
    {
      name: 'no-cycles',
      comment: 'type imports count too',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'known-folders-only',
      comment: `src holds ${folders.replaceAll('|', ', ')} and nothing else`,
      severity: 'error',
      from: {},
      to: { path: '^src/', pathNot: `^src/(${folders})/` },
    },
    {
      name: 'known-folders-only-from',
      comment: `src holds ${folders.replaceAll('|', ', ')} and nothing else`,
      severity: 'error',
      from: { path: '^src/', pathNot: `^src/(${folders})/` },
      to: {},
    },
    {
      name: 'no-node-in-the-product',
      comment: 'the product runs in the browser; only tests may use what Node brings',
      severity: 'error',
      from: { path: '^src/', pathNot: TESTS },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'no-development-package-in-the-product',
      comment: 'what ships depends only on packages listed under dependencies',
      severity: 'error',
      from: { path: '^src/', pathNot: TESTS },
      to: { dependencyTypes: ['npm-dev', 'npm-no-pkg', 'npm-unknown'], pathNot: 'node_modules/@types/' },
    },
    {
      name: 'no-test-in-the-product',
      severity: 'error',
      from: { path: '^(src|scripts)/', pathNot: TESTS },
      to: { path: TESTS },
    },
    {
      name: 'resolvable',
      comment: 'the file or package that is named does not exist',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    parser: 'swc',
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.tsx', '.mjs', '.js', '.json'],
      conditionNames: ['import', 'browser', 'default'],
      exportsFields: ['exports'],
    },
  },
};
