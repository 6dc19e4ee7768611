import { createContext, useContext, useSyncExternalStore } from 'react';
import { useStore } from 'zustand';
import type { Problem } from '../base/result.ts';
import type { Editor, EditorState } from '../editor/index.ts';
import type { Measured, Notice } from '../derive/index.ts';
import type { PhotoMeasure, Plan } from '../plan/records.ts';
import type { SheetSet } from '../sheet/index.ts';

/** Pictures as the canvas needs them. */
export interface PictureSource {
  /** The level of detail that suits the zoom; null while it is loading. */
  bitmapFor(pictureId: string, screenPixelsPerPicturePixel: number): ImageBitmap | null;
  /** Calls back whenever a picture has arrived. Gives the way to stop. */
  subscribe(changed: () => void): () => void;
}

/** Lays the site photo flat, and takes that back. */
export interface PhotoFlattening {
  /**
   * Makes the flat picture in the background and puts it under the plan as one edit.
   * @param lines lines to keep as checks besides those of the photo
   * @param progress hears the share of the work that is done, 0 to 1
   * @param stop calls the work off; the plan then stays as it is
   * @returns what went wrong; null when all is done or was called off
   */
  apply(
    measured: Measured,
    lines: readonly PhotoMeasure[],
    progress: (share: number) => void,
    stop: AbortSignal,
  ): Promise<Problem | null>;
  /** Puts the picture as taken back, or tells why that cannot be. */
  takeBack(): Promise<void>;
}

export type SaveState =
  { readonly kind: 'saved' | 'saving' | 'idle' } | { readonly kind: 'failed'; readonly why: string };

/** A file with a plant list as rows of text, not understood yet. */
export interface PlantTable {
  readonly file: File;
  readonly name: string;
  readonly encoding: string;
  readonly delimiter: string;
  /** Every row of the file, also the empty ones: row `i` is row `i + 1` of a spreadsheet. */
  readonly rows: readonly (readonly string[])[];
  /** What was odd about its quotes. */
  readonly problems: readonly Problem[];
}

/** The plant list that waits to be taken into the plan. */
export interface PlantImport {
  table(): PlantTable | null;
  /** Calls back when it has changed. Gives the way to stop. */
  subscribe(changed: () => void): () => void;
  /** Reads the file again with other signs between the columns. */
  separateBy(delimiter: string): Promise<void>;
  close(): void;
}

/** What the page around the screen does for it: files, storage, printing. */
export interface Services {
  readonly pictures: PictureSource;
  /** Puts a picture under the plan, opens a plan or survey file, or begins to read a plant list, whichever it is. */
  take(file: Blob): Promise<void>;
  readonly plantImport: PlantImport;
  /** Hands a text to the person as a file; the site's name goes before its own. */
  saveText(text: string, name: string, mediaType: string): void;
  savePlan(): Promise<void>;
  newPlan(): void;
  openDemo(): void;
  /** Resolves once the answer to the plan as it is now is there, or cannot be had. */
  studied(): Promise<void>;
  /** What is wrong in any situation; null, and the person is told, when that cannot be had. */
  situations(plan: Plan): Promise<readonly Notice[] | null>;
  /** Flush ends to be opened together, group by group; null like `situations`. */
  flushGroups(plan: Plan): Promise<readonly (readonly string[])[] | null>;
  /** Makes a PDF of the sheets and hands it to the person. */
  print(sheets: SheetSet): Promise<void>;
  /** A picture as a data address, for the preview of a sheet. */
  pictureUrl(pictureId: string): Promise<string | null>;
  readonly flattening: PhotoFlattening;
  saveState(): SaveState;
  onSaveState(changed: () => void): () => void;
}

export interface Shop {
  readonly editor: Editor;
  readonly services: Services;
}

export const ShopContext = createContext<Shop | null>(null);

function useShop(): Shop {
  const shop = useContext(ShopContext);
  if (!shop) throw new Error('The screen must stand inside a ShopContext.');
  return shop;
}

export const useEditor = (): Editor => useShop().editor;
export const useServices = (): Services => useShop().services;

/** Part of the editor's state; `select` must give the same object for the same state. */
export function useEditorState<T>(select: (state: EditorState) => T): T {
  return useStore(useEditor().store, select);
}

export function useSaveState(): SaveState {
  const services = useServices();
  return useSyncExternalStore(services.onSaveState, services.saveState);
}
