namespace SchoolDrills.Contracts;

/// <summary>Accounts, people, audit and records.</summary>
public sealed partial class SchoolDrillsClient
{
    public Task<IReadOnlyList<SchoolChoice>> MySchoolsAsync(CancellationToken ct = default) =>
        GetAsync("me/schools", Wire.IReadOnlyListSchoolChoice, ct);

    public Task<SessionTokens> SwitchSchoolAsync(SwitchSchool to, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "session/switch", Body(to, Wire.SwitchSchool), Wire.SessionTokens, ct);

    /// <summary>Refused as <see cref="ApiProblemException.ConfirmPassword"/> where the password was not given recently.</summary>
    public Task ConfirmedAsync(CancellationToken ct = default) => SendAsync(HttpMethod.Get, "session/confirm", null, ct);

    public Task ConfirmPasswordAsync(ConfirmPassword again, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "session/confirm", Body(again, Wire.ConfirmPassword), ct);

    public Task<PersonLink> InviteAsync(InvitePerson person, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "people", Body(person, Wire.InvitePerson), Wire.PersonLink, ct);

    /// <summary>All of them or none; a refusal has one sentence for each row that cannot be invited, as <c>people[3]</c>.</summary>
    public Task<IReadOnlyList<PersonLink>> InviteAllAsync(InvitePeople people, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "people/invitations", Body(people, Wire.InvitePeople), Wire.IReadOnlyListPersonLink, ct);

    public Task<SchoolStart> SchoolStartAsync(CancellationToken ct = default) => GetAsync("school/start", Wire.SchoolStart, ct);

    public Task<SchoolStart> SaveSchoolStartAsync(SaveSchoolStart save, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, "school/start", Body(save, Wire.SaveSchoolStart), Wire.SchoolStart, ct);

    public Task<PersonLink> InviteAgainAsync(Guid id, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"people/{id}/invitation", null, Wire.PersonLink, ct);

    public Task WithdrawInvitationAsync(Guid id, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Delete, $"people/{id}/invitation", null, ct);

    public Task<PersonLink> ResetLinkAsync(Guid id, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"people/{id}/reset-link", null, Wire.PersonLink, ct);

    public Task<PersonSummary> EditPersonAsync(Guid id, EditPerson person, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"people/{id}", Body(person, Wire.EditPerson), Wire.PersonSummary, ct);

    public Task DeactivateAsync(Guid id, CancellationToken ct = default) => SendAsync(HttpMethod.Post, $"people/{id}/deactivate", null, ct);

    public Task ReactivateAsync(Guid id, CancellationToken ct = default) => SendAsync(HttpMethod.Post, $"people/{id}/reactivate", null, ct);

    public Task RemoveSecondFactorAsync(Guid id, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Delete, $"people/{id}/second-factor", null, ct);

    public Task<LinkDetail> LinkAsync(string token, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "links/look", Body(new LinkToken(token), Wire.LinkToken), Wire.LinkDetail, ct);

    public Task AcceptLinkAsync(AcceptLink accept, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "links/accept", Body(accept, Wire.AcceptLink), ct);

    public Task ForgotPasswordAsync(ForgotPassword forgot, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "password/forgot", Body(forgot, Wire.ForgotPassword), ct);

    public Task<AccountDetail> AccountAsync(CancellationToken ct = default) => GetAsync("me/account", Wire.AccountDetail, ct);

    public Task<AccountDetail> SaveAccountAsync(SaveAccount account, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, "me/account", Body(account, Wire.SaveAccount), Wire.AccountDetail, ct);

    public Task<NoticePage> NoticesAsync(bool unread = false, int page = 1, CancellationToken ct = default) =>
        GetAsync("me/notices" + Query(("unread", unread ? "true" : null), ("page", Text((int?)page))), Wire.NoticePage, ct);

    public Task<NoticeCount> UnreadNoticesAsync(CancellationToken ct = default) => GetAsync("me/notices/count", Wire.NoticeCount, ct);

    public Task<NoticeCount> ReadNoticesAsync(ReadNotices read, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "me/notices/read", Body(read, Wire.ReadNotices), Wire.NoticeCount, ct);

    public Task ChangePasswordAsync(ChangePassword change, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, "me/password", Body(change, Wire.ChangePassword), ct);

    public Task<IReadOnlyList<SessionSummary>> SessionsAsync(Guid personId, CancellationToken ct = default) =>
        GetAsync($"people/{personId}/sessions", Wire.IReadOnlyListSessionSummary, ct);

    public Task EndSessionAsync(Guid personId, Guid sessionId, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Delete, $"people/{personId}/sessions/{sessionId}", null, ct);

    public Task<IReadOnlyList<ApiTokenSummary>> ApiTokensAsync(Guid personId, CancellationToken ct = default) =>
        GetAsync($"people/{personId}/tokens", Wire.IReadOnlyListApiTokenSummary, ct);

    public Task<ApiTokenMade> CreateApiTokenAsync(CreateApiToken token, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "me/tokens", Body(token, Wire.CreateApiToken), Wire.ApiTokenMade, ct);

    public Task RevokeApiTokenAsync(Guid personId, Guid tokenId, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Delete, $"people/{personId}/tokens/{tokenId}", null, ct);

    public Task<SecondFactorKey> StartSecondFactorAsync(CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "me/second-factor", null, Wire.SecondFactorKey, ct);

    public Task<RecoveryCodes> ConfirmSecondFactorAsync(string code, CancellationToken ct = default) =>
        SendAsync(
            HttpMethod.Post,
            "me/second-factor/confirm",
            Body(new SecondFactorCode(code), Wire.SecondFactorCode),
            Wire.RecoveryCodes,
            ct
        );

    public Task DropSecondFactorAsync(string password, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "me/second-factor/remove", Body(new PasswordAgain(password), Wire.PasswordAgain), ct);

    public Task<AuditPage> AuditAsync(
        DateOnly? from = null,
        DateOnly? to = null,
        Guid? who = null,
        string? what = null,
        int page = 1,
        CancellationToken ct = default
    ) =>
        GetAsync(
            "school/audit"
                + Query(("from", Day(from)), ("to", Day(to)), ("who", who?.ToString()), ("what", what), ("page", Text((int?)page))),
            Wire.AuditPage,
            ct
        );

    public Task<RecordsOverview> RecordsAsync(CancellationToken ct = default) => GetAsync("school/records", Wire.RecordsOverview, ct);

    public Task<RecordsOverview> SaveRecordSettingsAsync(RecordSettings settings, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, "school/records", Body(settings, Wire.RecordSettings), Wire.RecordsOverview, ct);

    public Task SetLegalHoldAsync(Guid personId, SetLegalHold hold, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"people/{personId}/legal-hold", Body(hold, Wire.SetLegalHold), ct);

    public Task ErasePersonAsync(Guid personId, string displayName, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"people/{personId}/erase", Body(new ErasePerson(displayName), Wire.ErasePerson), ct);

    public Task<TrainingRecord> TrainingRecordAsync(Guid studentId, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/record", Wire.TrainingRecord, ct);

    public Task<StudentNotePage> StudentNotesAsync(Guid studentId, int page = 1, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/notes" + Query(("page", Text((int?)page))), Wire.StudentNotePage, ct);

    public Task<StudentNote> AddStudentNoteAsync(Guid studentId, SaveStudentNote note, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"students/{studentId}/notes", Body(note, Wire.SaveStudentNote), Wire.StudentNote, ct);

    public Task<StudentNote> ChangeStudentNoteAsync(Guid noteId, SaveStudentNote note, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"notes/{noteId}", Body(note, Wire.SaveStudentNote), Wire.StudentNote, ct);

    public Task DeleteStudentNoteAsync(Guid noteId, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Delete, $"notes/{noteId}", null, ct);

    private static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
}
