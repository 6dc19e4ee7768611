import { bad, good, type Result } from '../base/result.ts';

/** Largest file that is read, characters; a plan with its picture stays far below. */
export const MAX_FILE_CHARACTERS = 150_000_000;

/** Deepest nesting that is read; plans and surveys need less than ten levels. */
const MAX_DEPTH = 100;

export type JsonObject = Readonly<Record<string, unknown>>;

/** Whether a parsed value is an object with named fields (not a list, not null). */
export function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/**
 * Parses JSON text. A syntax error is given with line and column (from 1), the same on every platform, which the
 * built-in messages are not. Refuses empty, oversized and absurdly nested text.
 */
export function parseJson(text: string): Result<unknown> {
  if (text.length > MAX_FILE_CHARACTERS) {
    return bad(
      'file',
      `the file has ${text.length} characters, more than the ${MAX_FILE_CHARACTERS} that are read`,
      'Make the picture in it smaller and save it again.',
    );
  }
  const body = text.startsWith('\uFEFF') ? text.slice(1) : text;
  if (body.trim() === '') return bad('file', 'the file is empty', 'Choose a plan file or a survey file.');
  if (depthOf(body) > MAX_DEPTH) {
    return bad(
      'file',
      `lists are nested more than ${MAX_DEPTH} deep`,
      'Choose a plan file or a survey file.',
    );
  }
  try {
    return good(JSON.parse(body) as unknown);
  } catch {
    const fault = firstFault(body);
    const before = body.slice(0, fault.at);
    const line = before.split('\n').length;
    const column = fault.at - (before.lastIndexOf('\n') + 1) + 1;
    return bad(
      `line ${line}, column ${column}`,
      `this is not JSON: ${fault.what}`,
      'Correct the text there, or open an earlier copy of the file.',
    );
  }
}

/** Deepest nesting of brackets outside of strings. */
function depthOf(text: string): number {
  let depth = 0;
  let deepest = 0;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 0x22) {
      i = endOfString(text, i);
    } else if (c === 0x5b || c === 0x7b) {
      depth++;
      if (depth > deepest) deepest = depth;
    } else if (c === 0x5d || c === 0x7d) {
      depth--;
    }
  }
  return deepest;
}

/** Index of the quote that closes the string opened at `start`, or the text's end. */
function endOfString(text: string, start: number): number {
  let end = text.indexOf('"', start + 1);
  while (end !== -1) {
    let slashes = 0;
    while (text[end - 1 - slashes] === '\\') slashes++;
    if (slashes % 2 === 0) return end;
    end = text.indexOf('"', end + 1);
  }
  return text.length;
}

interface Fault {
  readonly at: number;
  readonly what: string;
}

const TOKEN = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?(?![\w.])|true\b|false\b|null\b|[[\]{},:]/y;
/** Escapes that are allowed in a text; a backslash or control character left over is a fault. */
const IN_TEXT = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})|\\|[^ -\uffff]/g;
const SPACE = /[ \t\r\n]*/y;

/** First place at which text that does not parse stops being JSON. */
function firstFault(text: string): Fault {
  // What may come next: a value, a key, a colon after a key, or a comma or end after a value.
  type Await = 'value' | 'value or ]' | 'key' | 'key or }' | 'colon' | 'after' | 'nothing';
  const open: ('[' | '{')[] = [];
  let awaited: Await = 'value';
  let at = 0;
  const closed = (): Await => (open.length ? 'after' : 'nothing');
  for (;;) {
    SPACE.lastIndex = at;
    SPACE.exec(text);
    at = SPACE.lastIndex;
    if (at >= text.length) return { at: text.length, what: 'the text ends before the file is complete' };
    const token = tokenAt(text, at);
    if (typeof token !== 'string') return token;
    const inner = open.at(-1);
    if (awaited === 'nothing') return { at, what: `there is more text after the end: ${shown(token)}` };
    if (awaited === 'colon') {
      if (token !== ':') return { at, what: `a colon is missing before ${shown(token)}` };
      awaited = 'value';
    } else if (awaited === 'after') {
      if (token === ',') awaited = inner === '[' ? 'value' : 'key';
      else if (token === (inner === '[' ? ']' : '}')) {
        open.pop();
        awaited = closed();
      } else return { at, what: `a comma or a closing bracket is missing before ${shown(token)}` };
    } else if (awaited === 'key' || awaited === 'key or }') {
      if (token.startsWith('"')) awaited = 'colon';
      else if (token === '}' && awaited === 'key or }') {
        open.pop();
        awaited = closed();
      } else return { at, what: `a field name in double quotes belongs where ${shown(token)} stands` };
    } else if (token === '{' || token === '[') {
      open.push(token);
      awaited = token === '{' ? 'key or }' : 'value or ]';
    } else if (token === ']' && awaited === 'value or ]') {
      open.pop();
      awaited = closed();
    } else if (/^[\]},:]$/.test(token)) {
      return { at, what: `a value is missing before ${shown(token)}` };
    } else {
      awaited = closed();
    }
    at += token.length;
  }
}

/** The token that begins at `at`, or what is wrong with it. Texts are walked, not matched: they may be megabytes. */
function tokenAt(text: string, at: number): string | Fault {
  if (text[at] === '"') {
    const end = endOfString(text, at);
    const token = text.slice(at, end + 1);
    for (const match of token.matchAll(IN_TEXT)) {
      if (match[0].length > 1) continue;
      const what =
        match[0] === '\\'
          ? 'a backslash in a text must be followed by one of " \\ / b f n r t u'
          : 'a text in double quotes is not closed on its line';
      return { at: at + match.index, what };
    }
    return end < text.length ? token : { at, what: 'a text in double quotes is not closed' };
  }
  TOKEN.lastIndex = at;
  const token = TOKEN.exec(text)?.[0];
  if (token !== undefined) return token;
  const word = /^[^\s,:[\]{}"]+/.exec(text.slice(at, at + 40))?.[0] ?? text[at]!;
  return { at, what: `${shown(word)} is neither a number, a text in double quotes, true, false nor null` };
}

function shown(token: string): string {
  return token.length > 30 ? `${token.slice(0, 27)}...` : token;
}
