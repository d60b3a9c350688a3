// Shapes that the script of the player works with, for the checks alone.

/** As DrillPlayer.razor sends it: one entry a second. */
interface FlownDrill {
    timeS: number[];
    headingMagDeg: number[];
    altitudeFt: number[];
    verticalSpeedFpm: number[];
    turnRateDegPerS: number[];
    airspeedKt: number[];
    segmentIndex: number[];
    /** Places on the drawings, in their own pixels. */
    planX: number[];
    planY: number[];
    profileX: number[];
    profileY: number[];
    /** Names by index. */
    segments: string[];
    scans: PlayedScan[];
}

interface PlayedScan {
    fromS: number;
    moment: string;
    say: string;
    pitch: PlayedAxis;
    bank: PlayedAxis;
    power: PlayedAxis;
}

interface PlayedAxis {
    primary: string;
    supporting: string;
}
