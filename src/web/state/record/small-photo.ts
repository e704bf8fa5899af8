/** Lists show many photos at once; a small one of each spares the tablet the twelve million points of the camera. */

const LONGEST_PX = 320;
const QUALITY = 0.8;

/** A small JPEG of a photo; undefined where it is small already, or the browser cannot read it. */
const smallOf = async (photo: Blob): Promise<Blob | undefined> => {
  const picture = await createImageBitmap(photo);
  try {
    const scale = LONGEST_PX / Math.max(picture.width, picture.height);
    if (scale >= 1) return undefined;
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const pen = canvas.getContext('2d');
    if (!pen) return undefined;
    // JPEG knows no transparency: what shows through is paper, not black.
    pen.fillStyle = '#fff';
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.imageSmoothingQuality = 'high';
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    return await new Promise((done) =>
      canvas.toBlob((blob) => done(blob ?? undefined), 'image/jpeg', QUALITY),
    );
  } finally {
    picture.close();
  }
};

/** Makes and keeps the small one. Without it lists show the photo itself, so that no failure here is one of the photo. */
export const handInSmall = async (sha256: string, photo: Blob): Promise<void> => {
  try {
    const small = await smallOf(photo);
    if (small) await fetch(`/api/record/photos/${sha256}/small`, { method: 'PUT', body: small });
  } catch {
    // As said above.
  }
};
