using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Layout;

/// <summary>The signed-in person, and times as the person's school reads them.</summary>
public sealed class SignedIn(Me me, TimeProvider clock)
{
    public Me Me { get; } = me;

    public Guid Id => Me.Id;

    public bool IsChief => Me.Roles.Contains(Roles.Chief);

    /// <summary>Teaches: an instructor or the chief instructor.</summary>
    public bool Teaches => IsChief || Me.Roles.Contains(Roles.Instructor);

    /// <summary>Drafts drills; publishing them is the chief's.</summary>
    public bool MayDraft => IsChief || (Teaches && Me.School.InstructorsDraft);

    /// <summary>What the first page is called.</summary>
    public string Home => Teaches ? T["Desk"] : T["My work"];

    public SchoolTime Time { get; } = new(me.School.TimeZone, clock);

    /// <summary>The words that are given, the lowest first: the n-th by the digit n.</summary>
    public IEnumerable<GradeWord> GivenWords => Me.School.GradeScale.Where(g => !g.Retired).OrderBy(g => g.Order);

    /// <summary>Notices were read; the number is how many are unread now.</summary>
    public event Action<int>? NoticesRead;

    public void TellNoticesRead(int unread) => NoticesRead?.Invoke(unread);

    public string GradeWord(string slug) => Me.School.GradeScale.FirstOrDefault(g => g.Slug == slug)?.Word ?? slug;
}
