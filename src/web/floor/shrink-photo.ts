/** Longest side of a photograph that is sent, in pixels: enough to see a scratch, small enough for a workshop's connection. */
const LONGEST = 2_048;
const QUALITY = 0.85;

/** A photograph as JPEG, no larger than it need be. What the browser cannot read as a picture is sent as it is; the server judges it. */
export async function shrinkPhoto(file: Blob): Promise<Blob> {
  const picture = await createImageBitmap(file).catch(() => null);
  if (picture === null) return file;
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const made = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', QUALITY));
  return made ?? file;
}
