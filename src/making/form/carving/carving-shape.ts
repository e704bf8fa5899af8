import { z } from 'zod';
import { along } from '../along.ts';

/** Outlines that come ready drawn; each fills its width and height, point or round end up. */
export const MOTIFS = ['round', 'drop', 'leaf', 'slot', 'lozenge', 'arch'] as const;
export type Motif = (typeof MOTIFS)[number];

/** The longest path somebody may draw, in letters. */
const LONGEST_PATH = 20_000;

export const Outline = z
  .union([
    z
      .strictObject({ motif: z.enum(MOTIFS).describe('A ready outline') })
      .describe('One of the ready outlines'),
    z
      .strictObject({
        path: z
          .string()
          .min(1)
          .max(LONGEST_PATH)
          .describe(
            'SVG path data of closed outlines; y down as in SVG, any unit: width and height say the size',
          ),
      })
      .describe('A drawn outline'),
  ])
  .describe('The outline as seen from outside, upright');
export type Outline = z.infer<typeof Outline>;

/** Where an outline lies on the wall, and how often. */
const placing = {
  outline: Outline,
  width_mm: z.number().min(0.5).max(1000).describe('Width along the wall before turning, mm'),
  height_mm: z.number().min(0.5).max(1000).describe('Height along the wall before turning, mm'),
  turn_deg: z.number().min(-360).max(360).default(0).describe('Turned left about its middle, degrees'),
  along: along().describe('Where the middle lies along the outer line: 0 at the foot edge, 1 at the lip'),
  angle_deg: z.number().min(-720).max(720).default(0).describe('Where the first one lies, degrees from +x'),
  count: z.int().min(1).max(400).default(1).describe('How many, evenly round the piece'),
  rows: z.int().min(1).max(60).default(1).describe('How many rows of them, going up from the first'),
  rowStep_mm: z
    .number()
    .min(0.5)
    .max(1000)
    .optional()
    .describe('From row to row along the wall, mm; left out, one and a half heights'),
  staggered: z.boolean().default(false).describe('Every second row turned round by half a step'),
};

const depth = () =>
  z.number().min(0.1).max(30).describe('How deep at the deepest, mm off the outside of the wall');

export const Opening = z
  .strictObject({ kind: z.literal('opening'), ...placing })
  .describe('Cut right through the wall');
export type Opening = z.infer<typeof Opening>;

const CarvedOutline = z
  .strictObject({
    kind: z.literal('relief'),
    ...placing,
    depth_mm: depth(),
    bevel_mm: z
      .number()
      .min(0)
      .max(100)
      .default(1)
      .describe('Over how far inside the outline the cut goes down to its depth, mm'),
  })
  .describe('An outline carved into the outside to a depth');
export type CarvedOutline = z.infer<typeof CarvedOutline>;

const DepthMap = z
  .strictObject({
    kind: z.literal('relief'),
    map: z
      .array(z.array(z.number().min(0).max(1)).min(2).max(512))
      .min(2)
      .max(512)
      .describe('How deep as a share of depth_mm, rows from the top down, each going round to the right'),
    depth_mm: depth(),
    alongFrom: along().describe('Lower edge of the map along the outer line'),
    alongTo: along().describe('Upper edge of the map along the outer line'),
    count: z.int().min(1).max(400).default(1).describe('How often the map is laid round the piece'),
    angle_deg: z.number().min(-720).max(720).default(0).describe('Where its left edge lies, degrees from +x'),
  })
  .describe('A map of depths laid round the piece');
export type DepthMap = z.infer<typeof DepthMap>;

export const Relief = z.union([CarvedOutline, DepthMap]);
export type Relief = z.infer<typeof Relief>;

/** What is cut through or carved into the finished shape. */
export const Carving = z.union([Opening, CarvedOutline, DepthMap]);
export type Carving = z.infer<typeof Carving>;
