/** How to take a photograph that can be measured, in lines short enough for the foot of a printed sheet. */
export const takePhotograph = {
  title: 'Photograph a fired piece to measure its outline',
  steps: [
    'Print at full size (100 %), check the ruler; if it is off, measure between the discs and enter that. Glue on stiff board, cut.',
    'Wait until the piece is cool to the hand. Specks of kiln wash under the foot are sharp and dusty: gloves, and wipe them wet.',
    'Stand the piece as it stood in the kiln, card and piece on one level board, dark matt cloth behind and all round. White porcelain needs a dark ground.',
    'Stand the card beside the piece, a finger apart, square to the camera and upright, in the plane of the middle of the piece.',
    'Stand the camera far off and zoom in (2x or more): 1.5 m or more. Lens at half the height of the piece, looking level.',
    'Measure from the lens to the plane of the card, or leave it to what the camera notes; without either, round pieces look too wide.',
    'All of piece and card in the picture, some way in from its edges; even light, no hard shadow on the card, no flash.',
    'Note from which side you look, as the piece stood in the kiln. Two photographs a quarter turn apart tell more than one.',
  ],
} as const;
