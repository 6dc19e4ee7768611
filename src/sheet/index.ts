export { composeSheets, MOST_TILES, type SheetInput, type SheetOptions } from './compose.ts';
export { fitScale } from './fit-scale.ts';
export { PAPERS, paperById, paperSize, type Orientation, type Paper, type PaperId } from './paper.ts';
export { mmPerMetre, SCALES, scaleById, scalesFor, type Scale, type ScaleId } from './scales.ts';
export { writePdf, type SheetFonts, type SheetPicture } from './pdf.ts';
export { pageToSvg } from './svg.ts';
export type { Frame, Page, PaperPart, SheetSet, View } from './page.ts';
