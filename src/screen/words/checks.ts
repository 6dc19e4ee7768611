/** How many of a thing. */
const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** Words of the findings of the design checks, of what is accepted, and of the limits. */
export const checks = {
  /** What is open, in a line; the worst first. */
  open: (errors: number, warnings: number, notes: number): string =>
    [
      errors > 0 ? counted(errors, 'error') : '',
      warnings > 0 ? counted(warnings, 'warning') : '',
      notes > 0 ? counted(notes, 'note') : '',
    ]
      .filter(Boolean)
      .join(', '),
  allAccepted: 'Nothing else to report: what there is was accepted as it is.',
  show: 'Show',
  showTitle: 'Choose what this is about and bring it into view',
  fix: (label: string): string => `Fix: ${label}`,
  fixed: (label: string): string => `Done: ${label}. Undo takes it back.`,
  fixedNothing: 'Nothing was left to change there.',
  stale: 'The plan has changed since this was found. Wait for the new answer, then press again.',
  accept: 'Accept as it is…',
  source: 'Source',
  sourceTitle: 'Which check this is, and where its rule comes from',
  sourceIs: (source: string): string => `Source: ${source}.`,
  number: (n: number | null): string => (n === null ? 'Further check' : `Check ${n}`),
  all: (n: number): string => `Show all ${n}`,
  form: {
    reason: 'Why this is right here',
    by: 'Decided by',
    byNeeded: 'For an error the name of who answers for it is needed.',
    where: 'Holds',
    here: 'for what this finding names',
    everywhere: 'wherever this rule speaks, now and later',
    everywhereOnly: 'It names nothing on the plan, so this holds wherever the rule speaks.',
    caution:
      'To accept an error does not make it safe. Backflow protection, permits and the label of a part go by local code and licensed practice.',
    make: 'Accept',
    cancel: 'Cancel',
    done: 'Accepted. It is listed below and on the sheets; undo takes it back.',
  },
  accepted: {
    title: (n: number): string => `Accepted as they are (${n})`,
    by: (name: string): string => (name ? `by ${name}` : 'no name given'),
    everywhere: 'wherever this rule speaks',
    silent: 'Nothing in this list calls for it at present.',
    back: 'Take back',
    backDone: 'Taken back: the finding is open again.',
  },
  card: {
    title: 'Checks and limits',
    summary: (total: number, speaking: number, accepted: number, notTold: number): string =>
      `${counted(total, 'check')}: ${[
        `${speaking} speaking`,
        accepted > 0 ? `${accepted} accepted` : '',
        notTold > 0 ? `${notTold} cannot be judged yet` : '',
        `${total - speaking - accepted - notTold} in order`,
      ]
        .filter(Boolean)
        .join(', ')}`,
    note: 'Advice by published rules and common practice, no guarantee. Local codes, licensed practice and the label of a part go before.',
    filter: 'Which checks',
    speaking: 'Speaking',
    changed: 'Changed limits',
    every: 'All',
    noneSpeaking: 'No check speaks. Under All each one says how it stands, with its limits.',
    noneChanged: 'All limits are as usual. Under All each can be changed for this plan.',
    further: 'Beyond the forty',
    solving: 'The checks run once the plan is solved.',
    states: {
      inOrder: 'in order',
      speaks: (n: number): string => `speaks ${n}`,
      accepted: (n: number): string => `accepted ${n}`,
      notTold: 'cannot be judged yet',
    },
    worst: { error: 'At worst an error.', warning: 'At worst a warning.', info: 'A note at most.' },
    missing: (what: string): string => `Cannot be told yet: ${what}.`,
    noLimits: 'It has no limit of its own to change.',
    usual: (figure: string, source: string): string => `Usual ${figure} (${source}).`,
    own: (figure: string): string => `This plan has its own figure; usual is ${figure}.`,
    range: (least: string, most: string): string => `From ${least} to ${most}.`,
    outside: (least: string, most: string): string =>
      `This figure came with the file and lies outside ${least} to ${most}: type another or take the usual one.`,
    toUsual: (figure: string): string => `Back to ${figure}`,
    toUsualLabel: (label: string, figure: string): string => `${label}: back to the usual ${figure}`,
    set: (label: string, figure: string): string => `${label} is now ${figure} on this plan.`,
    allUsual: (n: number): string => `Take all ${counted(n, 'limit')} back to usual`,
    allUsualDone: 'All limits are as usual again.',
    unknown: (keys: string): string =>
      `The file brought limits that no check here knows: ${keys}. They are kept and change nothing.`,
  },
  print: {
    open: (errors: number, warnings: number): string =>
      `${errors > 0 && warnings > 0 ? `${counted(errors, 'error')} and ${counted(warnings, 'warning')} are` : errors + warnings === 1 ? `${errors ? '1 error' : '1 warning'} is` : `${errors ? counted(errors, 'error') : counted(warnings, 'warning')} are`} open.`,
    none: 'No error and no warning is open.',
    accepted: (n: number): string =>
      `${counted(n, 'finding is', 'findings are')} accepted as ${n === 1 ? 'it is' : 'they are'}.`,
    said: 'The sheets say so.',
  },
} as const;
