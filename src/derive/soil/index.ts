/** What follows from the soil as surveyed: its texture, how fast it takes in water, when water stands on it. */
export { textureOf, type SoilTexture, type TextureHow } from './texture.ts';
export { intakeOf, type IntakeFigure, type SoilIntake } from './intake.ts';
export { pondingOf, type Ponding } from './ponding.ts';
export { bedSlope, type BedSlope } from './bed-slope.ts';
export {
  frontDepthMm,
  frontOf,
  infiltrationMm,
  infiltrationRate,
  pondedInfiltrationMm,
  soakedAtPondingMm,
  soakIn,
  timeToPondingH,
  USUAL_SATURATION,
  type RainStep,
  type Soaked,
  type WettingFront,
} from './green-ampt.ts';
