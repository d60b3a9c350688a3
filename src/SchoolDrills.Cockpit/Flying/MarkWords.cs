using SchoolDrills.Cockpit.Storage;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>A mark as the instructor who made it says it.</summary>
internal static class MarkWords
{
    public static string Of(StoredMark mark) =>
        mark.Kind switch
        {
            EventKinds.ClockStart => T["clock started | in a sentence"],
            EventKinds.CheckDone => T["check done: {0}", Detail(mark)],
            EventKinds.TaskGiven => T["given: {0}", Detail(mark)],
            EventKinds.TaskAnswered => T["answered: {0}", Detail(mark)],
            EventKinds.TaskAnsweredWrong => T["answered wrong: {0}", Detail(mark)],
            EventKinds.LoadRating => T["load {0}", Detail(mark)],
            EventKinds.ReliefUsed => T["relief: {0}", Detail(mark)],
            EventKinds.Traffic => T["traffic: scoring paused"],
            EventKinds.TrafficClear => T["traffic clear | in a sentence"],
            EventKinds.TookControl => T["instructor has control: scoring paused"],
            EventKinds.HandedBack => T["handed back"],
            EventKinds.Abort => T["aborted"],
            EventKinds.Note => mark.Detail ?? T["this moment"],
            var other => mark.Detail is null ? other : $"{other}: {mark.Detail}",
        };

    private static string Detail(StoredMark mark) => mark.Detail ?? "";
}
