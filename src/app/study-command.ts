import type { Problem } from '../base/result.ts';
import { decisionOf } from '../derive/decision.ts';
import { detailsOf, studyOf } from '../derive/study.ts';
import { openAnything } from '../plan/file.ts';
import { readStudyArgs } from './study-args.ts';
import { studyJson } from './study-json.ts';
import { studyReport } from './study-report.ts';

/** What the command needs from the place where it runs. */
export interface StudyIo {
  /** Text of a file; throws, with a message for a person, when it cannot be read. */
  readonly read: (file: string) => string;
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
}

export const STUDY_USAGE = `Usage: npm run study -- FILE [--json] [--scenario STATE] [--friction LAW]

Studies a plan file or a survey file: what is there today, and the drip that is drawn.
  FILE     plan or survey; the path starts from the folder in which the command is given
  --json   one JSON object in SI units on the standard output, and nothing else there
  --scenario STATE   pressures and flows in another state than the usual one:
           static         nothing flows; the regulators creep
           flushing       flush ends open: all, or --open ID,ID
           clogged        a share of the outlets closed: a tenth, or --share 0.2
           dirty-filter   filters due for cleaning
           low-supply     the lowest static pressure of the service
  --friction LAW     darcy-weisbach (the usual one) or hazen-williams
  --help   this text

Ends with 0 when the file was studied, 1 when it could not be read, 2 when the command is wrong.
`;

/** Exit codes. */
export const STUDIED = 0;
export const BAD_FILE = 1;
export const WRONG_COMMAND = 2;

/** Runs the command with its arguments (those behind `--`); gives the exit code. */
export function runStudy(args: readonly string[], io: StudyIo): number {
  if (args.includes('--help') || args.includes('-h')) {
    io.out(STUDY_USAGE);
    return STUDIED;
  }
  const read = readStudyArgs(args);
  if (!read.ok) {
    const { what, todo } = read.problem;
    io.error(`${what}. ${todo}\n\n${STUDY_USAGE}`);
    return WRONG_COMMAND;
  }
  const { file, json, scenario, friction, openAll } = read.value;
  let text: string;
  try {
    text = io.read(file);
  } catch (error) {
    io.error(`${file} could not be read: ${error instanceof Error ? error.message : String(error)}\n`);
    return BAD_FILE;
  }
  const opened = openAnything(text);
  if (!opened.ok) {
    io.error(`${file} could not be used.\n${problemLine(opened.problem)}\n`);
    return BAD_FILE;
  }
  const { plan } = opened.value;
  const details = detailsOf(
    plan,
    openAll ? { kind: 'flushing', open: [...plan.flushEnds].map(({ id }) => id) } : scenario,
    friction,
  );
  const studied = { file, opened: opened.value, study: studyOf(plan), decision: decisionOf(plan), details };
  io.out(json ? `${JSON.stringify(studyJson(studied), null, 1)}\n` : studyReport(studied));
  return STUDIED;
}

function problemLine({ where, what, todo }: Problem): string {
  return `${where}: ${what}. ${todo}`;
}
