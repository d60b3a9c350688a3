using SchoolDrills.Cockpit.Storage;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>A mark as the instructor who made it says it.</summary>
internal static class MarkWords
{
    public static string Of(StoredMark mark) =>
        mark.Kind switch
        {
            EventKinds.ClockStart => "clock started",
            EventKinds.CheckDone => $"check done: {mark.Detail}",
            EventKinds.TaskGiven => $"given: {mark.Detail}",
            EventKinds.TaskAnswered => $"answered: {mark.Detail}",
            EventKinds.TaskAnsweredWrong => $"answered wrong: {mark.Detail}",
            EventKinds.LoadRating => $"load {mark.Detail}",
            EventKinds.ReliefUsed => $"relief: {mark.Detail}",
            EventKinds.Traffic => "traffic: scoring paused",
            EventKinds.TrafficClear => "traffic clear",
            EventKinds.TookControl => "instructor has control: scoring paused",
            EventKinds.HandedBack => "handed back",
            EventKinds.Abort => "aborted",
            EventKinds.Note => mark.Detail ?? "this moment",
            var other => mark.Detail is null ? other : $"{other}: {mark.Detail}",
        };
}
