export { TEXTURES, textureNamed, type Texture, type TextureClass } from './textures.ts';
export {
  textureOfShares,
  TRIANGLE_REGIONS,
  TRIANGLE_SOURCE,
  type Shares,
  type TriangleRegion,
} from './triangle.ts';
export { RIBBON_CLASSES, ribbonClass, type RibbonClass } from './ribbon.ts';
export { INTAKE_TABLES, intakeTable, type IntakeTable } from './intake.ts';
export type { IntakeGround, TableIntake } from './ground.ts';
export { chartSlopeFactor } from './texture-chart.ts';
export { GREEN_AMPT_SOILS, greenAmptSoil, type GreenAmptSoil } from './green-ampt.ts';
export { SOAKING_SOILS, SURFACE_STORAGE, type SoakingSoil, type SurfaceStorage } from './storage.ts';
export {
  LEAST_WET_WIDTH_M,
  MOST_WET_WIDTH_M,
  SPREAD_TABLES,
  textureGroup,
  volumeToDepthL,
  wetBulb,
  WETTING_SOURCE,
  type SpreadTable,
  type TextureGroup,
  type WetBulb,
} from './wetting.ts';
