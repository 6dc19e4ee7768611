import { bad, good, type Result } from '../base/result.ts';
import { FRICTION_LAWS, type FrictionLaw } from '../derive/network/friction-law.ts';
import { SCENARIO_KINDS, type Scenario } from '../derive/scenarios/scenario.ts';

/** What the study command was asked for. */
export interface StudyArgs {
  readonly file: string;
  readonly json: boolean;
  readonly scenario: Scenario;
  readonly friction: FrictionLaw;
  /** Open all flush ends of the plan, which the command does not know yet. */
  readonly openAll: boolean;
}

const USUAL_SHARE = 0.1;
const VALUED = ['--scenario', '--share', '--open', '--friction'];

/** Reads the command's arguments; values follow their option after a blank or `=`. */
export function readStudyArgs(args: readonly string[]): Result<StudyArgs> {
  const files: string[] = [];
  const values = new Map<string, string>();
  let json = false;
  for (let i = 0; i < args.length; i++) {
    const [option, joined] = split(args[i]!);
    if (option === '--json' && joined === undefined) json = true;
    else if (VALUED.includes(option)) {
      const value = joined ?? args[++i];
      if (value === undefined || value === '') {
        return bad(option, `${option} has no value`, `Write it behind the option.`);
      }
      values.set(option, value);
    } else if (option.startsWith('-')) {
      return bad(option, `There is no option ${args[i]!}`, 'Leave it out.');
    } else files.push(args[i]!);
  }
  const [file] = files;
  if (file === undefined) return bad('file', 'No file is named', 'Name a plan or survey file.');
  if (files.length > 1) {
    return bad('file', `One file at a time: ${files.join(', ')} are ${files.length}`, 'Name one.');
  }
  const kind = values.get('--scenario') ?? 'running';
  const known = SCENARIO_KINDS.find((name) => name === kind);
  if (!known) {
    return bad('--scenario', `There is no scenario ${kind}`, `Choose one of ${SCENARIO_KINDS.join(', ')}.`);
  }
  const share = Number(values.get('--share') ?? USUAL_SHARE);
  if (!(share >= 0 && share <= 1)) {
    return bad('--share', `The share ${values.get('--share')} is not from 0 to 1`, 'Write a tenth as 0.1.');
  }
  const friction = FRICTION_LAWS.find((law) => law === (values.get('--friction') ?? 'darcy-weisbach'));
  if (!friction) {
    return bad(
      '--friction',
      `There is no law of friction ${values.get('--friction')}`,
      `Choose one of ${FRICTION_LAWS.join(', ')}.`,
    );
  }
  const strange = Object.keys(FOR).find((option) => values.has(option) && kind !== FOR[option]);
  if (strange) {
    return bad(
      strange,
      `${strange} belongs to --scenario ${FOR[strange]}`,
      'Leave it out, or choose that scenario.',
    );
  }
  const open = values.get('--open')?.split(',').filter(Boolean);
  return good({
    file,
    json,
    friction,
    scenario:
      known === 'clogged'
        ? { kind: known, share }
        : known === 'flushing'
          ? { kind: known, open: open ?? [] }
          : { kind: known },
    openAll: known === 'flushing' && open === undefined,
  });
}

const FOR: Readonly<Record<string, string>> = { '--share': 'clogged', '--open': 'flushing' };

function split(arg: string): readonly [string, string | undefined] {
  const at = arg.startsWith('--') ? arg.indexOf('=') : -1;
  return at < 0 ? [arg, undefined] : [arg.slice(0, at), arg.slice(at + 1)];
}
