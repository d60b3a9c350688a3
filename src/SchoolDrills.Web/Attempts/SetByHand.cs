using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Attempts;

/// <summary>What an instructor set by hand, and why; to be scored anew.</summary>
public sealed record SetByHand(HandCorrections Corrections, string Reason);
