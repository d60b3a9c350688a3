namespace SchoolDrills.Engine.Drills;

/// <summary>What of a drill's load tasks is for those alone who ask them: whoever is to answer knows that one comes, and when.</summary>
public static class Questions
{
    /// <summary>What a load task is called for those who are to answer it.</summary>
    public const string Name = "Load task";

    /// <summary>The template without names, scripts and answers of its load tasks.</summary>
    /// <param name="template">A template.</param>
    public static DrillTemplate WithoutQuestions(this DrillTemplate template) =>
        template with
        {
            LoadTasks = [.. template.LoadTasks.Select(t => new LoadTask(Name, "", t.AtS))],
        };

    /// <summary>The timeline without names, scripts and answers of its load tasks.</summary>
    /// <param name="timeline">A timeline.</param>
    public static DrillTimeline WithoutQuestions(this DrillTimeline timeline) =>
        timeline with
        {
            LoadTasks = [.. timeline.LoadTasks.Select(t => t with { Name = Name, Script = "", ExpectedAnswer = null })],
        };
}
