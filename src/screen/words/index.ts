import { en } from './en.ts';

/** The words of the interface in the person's language. */
export function useWords(): typeof en {
  return en;
}
