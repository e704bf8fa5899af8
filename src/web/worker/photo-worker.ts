import { cameraOf } from '../../making/photo/camera.ts';
import { compareWithFired } from '../../making/photo/compare-with-fired.ts';
import { findOutline } from '../../making/photo/find-outline.ts';
import { outlineMeasures } from '../../making/photo/outline-measures.ts';
import { roundBody } from '../../making/photo/round-body.ts';
import { outlineForUnloading, outlinePlusMinus_m } from '../../making/photo/unloading-outline.ts';
import { answerWith } from './job-end.ts';
import type { OutlineRead, PhotoAsk, ReadAsk } from './photo-jobs.ts';

const read = ({ outline, toPicture, size, camera: known, from_deg, round, wall }: ReadAsk): OutlineRead => {
  const camera = known && cameraOf(toPicture, size, known);
  const section = camera && round ? roundBody(outline, camera) : outline;
  return {
    outline: outlineForUnloading(section, from_deg, outlinePlusMinus_m(section, camera)),
    measures: outlineMeasures(section.points_m),
    difference: wall && compareWithFired(outline, wall, { from_deg, ...(camera && { camera }) }),
  };
};

answerWith<PhotoAsk>((ask) => (ask.kind === 'find' ? findOutline(ask.picture, ask.wish) : read(ask)));
