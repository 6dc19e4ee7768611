import { createContext, useContext, useSyncExternalStore } from 'react';
import { useStore } from 'zustand';
import type { Editor, EditorState } from '../editor/index.ts';
import type { SheetSet } from '../sheet/index.ts';

/** Pictures as the canvas needs them. */
export interface PictureSource {
  /** The level of detail that suits the zoom; null while it is loading. */
  bitmapFor(pictureId: string, screenPixelsPerPicturePixel: number): ImageBitmap | null;
  /** Calls back whenever a picture has arrived. Gives the way to stop. */
  subscribe(changed: () => void): () => void;
}

export type SaveState =
  { readonly kind: 'saved' | 'saving' | 'idle' } | { readonly kind: 'failed'; readonly why: string };

/** What the page around the screen does for it: files, storage, printing. */
export interface Services {
  readonly pictures: PictureSource;
  /** Puts a picture under the plan, or opens a plan or survey file, whichever it is. */
  take(file: Blob): Promise<void>;
  savePlan(): Promise<void>;
  newPlan(): void;
  openDemo(): void;
  /** Makes a PDF of the sheets and hands it to the person. */
  print(sheets: SheetSet): Promise<void>;
  /** A picture as a data address, for the preview of a sheet. */
  pictureUrl(pictureId: string): Promise<string | null>;
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
