namespace SchoolDrills.Engine.Reconstruction;

/// <summary>What is known about the day besides the recording; null where unknown.</summary>
/// <param name="QnhHpa">Altimeter setting, hPa.</param>
/// <param name="OutsideAirTemperatureC">Outside air temperature at the drill's altitude, Celsius.</param>
/// <param name="Wind">Wind.</param>
public sealed record KnownConditions(double? QnhHpa = null, double? OutsideAirTemperatureC = null, WindField? Wind = null);
