using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api;

/// <summary>Refusals as problem details (RFC 9457): a stable type and one sentence that says where and what to do.</summary>
internal static class Problems
{
    private const string Types = "https://schooldrills.example/problems/",
        RetryAfter = "retryAfterS";

    /// <summary>The last part of a type of ours; null for anybody else's.</summary>
    public static string? ShortType(string? type) =>
        type?.StartsWith(Types, StringComparison.Ordinal) is true ? type[Types.Length..] : null;

    public static ProblemHttpResult NotFound(string what) =>
        Of(StatusCodes.Status404NotFound, "not-found", "Not found", $"There is no such {what}, or it is not yours to see.");

    public static ProblemHttpResult NotFoundBecause(string detail) => Of(StatusCodes.Status404NotFound, "not-found", "Not found", detail);

    /// <summary>One of several schools has to be named; they stand in <c>schools</c>.</summary>
    public static ProblemHttpResult WhichSchool(IReadOnlyList<SchoolChoice> schools) =>
        TypedResults.Problem(
            "This address has accounts at several schools: say which one with schoolId.",
            statusCode: StatusCodes.Status409Conflict,
            title: "Which school",
            type: Types + "which-school",
            extensions: [new("schools", schools)]
        );

    public static ProblemHttpResult NeedsCode() =>
        Of(
            StatusCodes.Status401Unauthorized,
            "second-factor",
            "A code is needed",
            "This account asks for a code as well: send the one that the authenticator app shows, or a recovery code, as code."
        );

    /// <summary>Pages know this type, ask for the password and call again.</summary>
    public static ProblemHttpResult ConfirmPassword() =>
        Of(
            StatusCodes.Status403Forbidden,
            ApiProblemException.ConfirmPassword,
            "Password needed again",
            "This needs your password once more, as you gave it some time ago: send it to POST /api/v1/session/confirm, then try again."
        );

    public static ProblemHttpResult NotForTokens() =>
        Of(
            StatusCodes.Status403Forbidden,
            "not-for-tokens",
            "Not allowed",
            "A program's token cannot do this: it takes a person who has signed in with the password."
        );

    public static ProblemHttpResult DraftsAreTheChiefs() =>
        Forbidden("At this school the chief instructor alone drafts drills: ask for it, or for the setting that lets instructors draft.");

    /// <summary>Pages and clients know this type: neither the password nor another try helps.</summary>
    public static ProblemHttpResult Suspended() =>
        Of(
            StatusCodes.Status403Forbidden,
            ApiProblemException.SchoolSuspended,
            "School suspended",
            "This school is suspended: nothing is lost, and nothing can be seen or sent until whoever looks after the server resumes it."
        );

    /// <summary>Of the school, where a full disk is the server's.</summary>
    public static ProblemHttpResult SchoolFull(string most) =>
        Of(
            StatusCodes.Status507InsufficientStorage,
            "school-full",
            "School full",
            $"The school keeps {most} of recordings at most, and this one does not fit any more: nothing of it was kept. Ask your chief "
                + "instructor to have the limit raised by whoever looks after the server."
        );

    public static ProblemHttpResult SchoolSentEnough(int most, TimeSpan wait) =>
        TooMany(
            $"The school may send {most} recordings an hour and has sent them: nothing of this one was kept; send it in {Wait(wait)}.",
            wait
        );

    public static ProblemHttpResult FromElsewhere() =>
        Of(
            StatusCodes.Status403Forbidden,
            "from-elsewhere",
            "Not allowed",
            "This was not sent by a page of this site: a cookie counts from there alone; a program sends an access token instead."
        );

    public static ProblemHttpResult Forbidden(string detail) => Of(StatusCodes.Status403Forbidden, "forbidden", "Not allowed", detail);

    public static ProblemHttpResult Conflict(string type, string detail) => Of(StatusCodes.Status409Conflict, type, "Conflict", detail);

    /// <summary>What was started from is no longer what is stored.</summary>
    public static ProblemHttpResult Changed(string type, string detail) =>
        Of(StatusCodes.Status412PreconditionFailed, type, "Changed meanwhile", detail);

    public static ProblemHttpResult Invalid(string type, string detail) =>
        Of(StatusCodes.Status400BadRequest, type, "Invalid request", detail);

    public static ProblemHttpResult Nul() =>
        Invalid("nul", "There is a character NUL (U+0000) in a text of this request: send it without.");

    public static ProblemHttpResult Unprocessable(string type, string detail) =>
        Of(StatusCodes.Status422UnprocessableEntity, type, "Cannot be used", detail);

    public static ProblemHttpResult Unprocessable(string type, string detail, IReadOnlyList<string> reasons) =>
        TypedResults.Problem(
            detail,
            statusCode: StatusCodes.Status422UnprocessableEntity,
            title: "Cannot be used",
            type: Types + type,
            extensions: [new("errors", new Dictionary<string, string[]> { ["segments"] = [.. reasons] })]
        );

    /// <summary>Rows of a list that cannot be used, each with its sentence under <c>name[index]</c>.</summary>
    public static ProblemHttpResult Rows(string name, string detail, IReadOnlyDictionary<int, string> rows) =>
        TypedResults.Problem(
            detail,
            statusCode: StatusCodes.Status422UnprocessableEntity,
            title: "Cannot be used",
            type: Types + name,
            extensions: [new("errors", rows.ToDictionary(r => $"{name}[{r.Key}]", r => new[] { r.Value }))]
        );

    /// <summary>A recording that cannot be read; of a CSV with its columns, for a person to say what they are.</summary>
    public static ProblemHttpResult Unreadable(TrackProblem problem) =>
        problem.Kind == TrackProblemKind.TooLarge
            ? TooLarge(problem.Message)
            : TypedResults.Problem(
                problem.Message,
                statusCode: StatusCodes.Status422UnprocessableEntity,
                title: "Cannot be used",
                type: Types + "unreadable-track",
                extensions: problem.Header is { } header ? [new("columns", header.Columns)] : []
            );

    public static ProblemHttpResult TooLarge(string detail) => Of(StatusCodes.Status413PayloadTooLarge, "too-large", "Too large", detail);

    public static ProblemHttpResult Unauthorized(string detail) =>
        Of(StatusCodes.Status401Unauthorized, "sign-in", "Not signed in", detail);

    /// <summary>After several wrong passwords; <c>Retry-After</c> says the wait as well.</summary>
    public static ProblemHttpResult TooSoon(TimeSpan wait) =>
        TooMany(
            $"Too many wrong passwords for this address: wait {Wait(wait)} and try again, or ask your chief instructor for a reset link.",
            wait
        );

    public static ProblemHttpResult TooManyUploads(TimeSpan wait) =>
        TooMany($"Too many recordings are being sent at once: wait {Wait(wait)}, then send the rest.", wait);

    public static ProblemHttpResult TooMany(string detail, TimeSpan wait) =>
        Later(StatusCodes.Status429TooManyRequests, "too-many-requests", "Too many requests", detail, wait);

    /// <summary>A wait in words.</summary>
    public static string Wait(TimeSpan wait) =>
        Seconds(wait) switch
        {
            1 => "a second",
            < 100 and var seconds => $"{seconds} seconds",
            < 100 * 60 and var seconds => $"{Math.Ceiling(seconds / 60.0)} minutes",
            var seconds => $"{Math.Ceiling(seconds / 3600.0)} hours",
        };

    /// <summary>A wait in whole seconds, never shorter than it is.</summary>
    public static int Seconds(TimeSpan wait) => (int)Math.Ceiling(wait.TotalSeconds);

    /// <summary>Says as a header what a refusal says in its body.</summary>
    public static void AddRetryAfter(ProblemDetailsContext problem)
    {
        if (problem.ProblemDetails.Extensions.TryGetValue(RetryAfter, out var seconds))
            problem.HttpContext.Response.Headers.RetryAfter = Convert.ToString(seconds, CultureInfo.InvariantCulture);
    }

    /// <summary>A fault on our side, or a request that the framework could not read.</summary>
    public static ProblemHttpResult Fault(int status) =>
        status switch
        {
            StatusCodes.Status503ServiceUnavailable => Later(
                status,
                "database-away",
                "Not available now",
                Sentence(status),
                TimeSpan.FromSeconds(5)
            ),
            StatusCodes.Status507InsufficientStorage => Of(status, "disk-full", "Disk full", Sentence(status)),
            _ => TypedResults.Problem(Sentence(status), statusCode: status),
        };

    /// <summary>What is said where only the status is known: by the framework, before an endpoint had its say.</summary>
    public static string Sentence(int? status) =>
        status switch
        {
            StatusCodes.Status401Unauthorized => "Sign in first: the token is missing, or its session has ended.",
            StatusCodes.Status403Forbidden => "Your role does not allow this.",
            StatusCodes.Status404NotFound => "There is nothing at this address.",
            StatusCodes.Status405MethodNotAllowed => "This address does not take that method.",
            StatusCodes.Status415UnsupportedMediaType => "Send JSON as application/json, and recordings as multipart/form-data.",
            StatusCodes.Status413PayloadTooLarge => "The request is too large: a recording may have 64 MiB.",
            < StatusCodes.Status500InternalServerError => "The request is not well formed: see the reference of the endpoint.",
            StatusCodes.Status503ServiceUnavailable =>
                "The database does not answer: try again in a few seconds. What you sent last may or may not be kept: look before you "
                    + "send it again.",
            StatusCodes.Status507InsufficientStorage =>
                "The server's disk is full, and this was not kept: tell whoever looks after the server, and send it again afterwards.",
            _ => "Something went wrong on the server, and this may be half done: look before you try again, and tell whoever looks after "
                + "the server if it stays so.",
        };

    private static ProblemHttpResult Later(int status, string type, string title, string detail, TimeSpan wait) =>
        TypedResults.Problem(detail, statusCode: status, title: title, type: Types + type, extensions: [new(RetryAfter, Seconds(wait))]);

    private static ProblemHttpResult Of(int status, string type, string title, string detail) =>
        TypedResults.Problem(detail, statusCode: status, title: title, type: Types + type);
}
