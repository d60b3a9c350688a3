namespace SchoolDrills.Engine.Reconstruction;

/// <summary>What the fit of the wind takes for how steadily an airspeed is held or recorded.</summary>
/// <param name="UsualKt">Usual deviation from what is held or recorded, knots.</param>
/// <param name="LeastKt">The least that it can come to, knots.</param>
/// <param name="LevelPerRootS">How much the level walks, as a share of the deviation per √s.</param>
/// <param name="HeldSigmaKt">Prior sigma of the mean airspeed, knots.</param>
/// <param name="ClimbSigmaKt">Prior sigma of what a climb, and a climb or descent, of 500 ft/min costs of the airspeed, knots.</param>
/// <param name="SigmaFactor">Factor on the sigma of the solution.</param>
internal readonly record struct HoldingModel(
    double UsualKt,
    double LeastKt,
    double LevelPerRootS,
    double HeldSigmaKt,
    double ClimbSigmaKt,
    double SigmaFactor
)
{
    private static readonly HoldingModel Free = new(
        WindModel.UsualAirspeedDeviationKt,
        WindModel.LeastAirspeedDeviationKt,
        WindModel.LevelPerRootS,
        WindModel.UnplannedAirspeedSigmaKt,
        WindModel.PriorClimbKt,
        WindModel.SigmaFactor
    );

    private static readonly HoldingModel Planned = Free with
    {
        LevelPerRootS = 0,
        HeldSigmaKt = WindModel.PlannedAirspeedSigmaKt,
        ClimbSigmaKt = WindModel.PriorCostKt,
        SigmaFactor = WindModel.PlannedSigmaFactor,
    };

    private static readonly HoldingModel Recorded = Planned with
    {
        UsualKt = WindModel.UsualRecordedDeviationKt,
        LeastKt = WindModel.LeastRecordedDeviationKt,
        SigmaFactor = WindModel.RecordedSigmaFactor,
    };

    /// <summary>By what is known of the motion through the air.</summary>
    /// <param name="evidence">What is known.</param>
    public static HoldingModel Of(AirEvidence evidence) =>
        evidence switch
        {
            AirEvidence.None => Free,
            AirEvidence.PlannedAirspeed => Planned,
            _ => Recorded,
        };
}
