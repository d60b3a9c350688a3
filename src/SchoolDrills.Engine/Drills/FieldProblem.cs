namespace SchoolDrills.Engine.Drills;

/// <summary>What is wrong with one field of something a school writes, to be shown beside the field.</summary>
/// <param name="Field">Path of the field as in the JSON: <c>tolerances[2].within</c>.</param>
/// <param name="Sentence">What is wrong and what would be right, one sentence.</param>
public sealed record FieldProblem(string Field, string Sentence);
