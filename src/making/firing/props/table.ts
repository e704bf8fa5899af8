import { z } from 'zod';
import { Hump, hump } from './hump.ts';
import { Post, post } from './post.ts';
import type { Shape } from './prop.ts';
import { Ring, ring } from './ring.ts';
import { Saddle, saddle } from './saddle.ts';
import { Wall, wall } from './wall.ts';

/** A new prop is one file beside this one, its schema here and its row below. */
export const Prop = z.discriminatedUnion('kind', [Post, Saddle, Hump, Ring, Wall]);
export type Prop = z.infer<typeof Prop>;

type Table = { readonly [K in Prop['kind']]: Shape<Extract<Prop, { kind: K }>> };
const TABLE: Table = { post, saddle, hump, ring, wall };

/** The functions of a prop, whichever it is. */
export const shapeOf = (prop: Prop): Shape<Prop> => TABLE[prop.kind] as unknown as Shape<Prop>;

/** Said wherever props are chosen. */
export const PROPS_CAUTION =
  "Props carry hot weight: keep to their makers' load limits, coat what touches with kiln wash or alumina (with a mask: the dust of silica and alumina harms the lungs), never lean on kiln elements or a thermocouple, and lift heavy set-ups with two people.";
