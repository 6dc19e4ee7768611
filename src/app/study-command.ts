import type { Problem } from '../base/result.ts';
import { studyOf } from '../derive/study.ts';
import { openAnything } from '../plan/file.ts';
import { studyJson } from './study-json.ts';
import { studyReport } from './study-report.ts';

/** What the command needs from the place where it runs. */
export interface StudyIo {
  /** Text of a file; throws, with a message for a person, when it cannot be read. */
  readonly read: (file: string) => string;
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
}

export const STUDY_USAGE = `Usage: npm run study -- FILE [--json]

Studies a plan file or a survey file: what is there today, and the drip that is drawn.
  FILE     plan or survey; the path starts from the folder in which the command is given
  --json   one JSON object in SI units on the standard output, and nothing else there
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
  const files = args.filter((arg) => !arg.startsWith('-'));
  const strange = args.find((arg) => arg.startsWith('-') && arg !== '--json');
  const [file] = files;
  if (strange !== undefined || file === undefined || files.length > 1) {
    const why =
      strange !== undefined
        ? `There is no option ${strange}.`
        : file === undefined
          ? 'No file is named.'
          : `One file at a time: ${files.join(', ')} are ${files.length}.`;
    io.error(`${why}\n\n${STUDY_USAGE}`);
    return WRONG_COMMAND;
  }
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
  const study = studyOf(opened.value.plan);
  const studied = { file, opened: opened.value, study };
  io.out(args.includes('--json') ? `${JSON.stringify(studyJson(studied), null, 1)}\n` : studyReport(studied));
  return STUDIED;
}

function problemLine({ where, what, todo }: Problem): string {
  return `${where}: ${what}. ${todo}`;
}
