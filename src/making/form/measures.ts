/** What a tape, a scale and a jug would say of a piece. */
export interface Measures {
  /** Outside, shelf to highest point of the piece as it lies. */
  readonly height_m: number;
  /** Outside, widest level extent in any direction. */
  readonly widest_m: number;
  /** Mid-wall width across the lip, widest; 0 without a lip. */
  readonly lipWidth_m: number;
  /** Outside width of the foot, widest. */
  readonly footWidth_m: number;
  /** Mid-surface, one side. */
  readonly area_m2: number;
  readonly clayVolume_m3: number;
  readonly weight_kg: number;
  /** Liquid it would hold standing upright, up to its lowest lip point; 0 for a tube. */
  readonly capacity_m3: number;
  readonly centreOfMass_m: readonly [number, number, number];
  readonly thinnestWall_m: number;
  readonly thickestWall_m: number;
}
