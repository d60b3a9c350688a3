using System.Net;
using Microsoft.AspNetCore.Components;
using MudBlazor;
using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Layout;

/// <summary>A component that talks to the API: what went wrong becomes one sentence, and leaving the page ends what is under way.</summary>
public abstract class ApiPage : ComponentBase, IDisposable
{
    private readonly CancellationTokenSource leaving = new();

    [Inject]
    protected SchoolDrillsClient Api { get; set; } = default!;

    [Inject]
    protected IDialogService Dialogs { get; set; } = default!;

    [CascadingParameter]
    protected SignedIn Me { get; set; } = default!;

    /// <summary>One sentence, or null while all is well.</summary>
    protected string? Problem { get; set; }

    protected bool Busy { get; private set; }

    /// <summary>Cancelled as the page is left; may be asked afterwards, too.</summary>
    protected CancellationToken Leaving { get; }

    protected ApiPage() => Leaving = leaving.Token;

    /// <summary>Runs a call; false, and <see cref="Problem"/> set, where it was refused.</summary>
    protected async Task<bool> TryAsync(Func<CancellationToken, Task> call)
    {
        Problem = null;
        Busy = true;
        try
        {
            await ConfirmedAsync(call);
            return true;
        }
        catch (ApiProblemException refusal)
        {
            Problem = Sentence(refusal);
            OnRefused(refusal);
        }
        catch (HttpRequestException)
        {
            Problem = T["The server is not responding. Nothing was lost; try again in a moment."];
        }
        catch (OperationCanceledException) when (Leaving.IsCancellationRequested)
        {
            // The person has gone elsewhere.
        }
        finally
        {
            Busy = false;
        }

        return false;
    }

    /// <summary>Where the API asks for the password again, the person is asked for it, and the call repeated.</summary>
    private async Task ConfirmedAsync(Func<CancellationToken, Task> call)
    {
        try
        {
            await call(Leaving);
        }
        catch (ApiProblemException refusal) when (refusal.Is(ApiProblemException.ConfirmPassword))
        {
            if (!await PasswordDialog.AskAsync(Dialogs))
                throw;
            await call(Leaving);
        }
    }

    /// <summary>Called with every refusal, for those that mean more than their sentence.</summary>
    protected virtual void OnRefused(ApiProblemException refusal) { }

    internal static string Sentence(ApiProblemException refusal) =>
        refusal.Status switch
        {
            HttpStatusCode.Unauthorized => T["Your session has ended; sign in again to go on."],
            _ when refusal.Is(ApiProblemException.ConfirmPassword) => T["Please confirm your password; nothing was changed."],
            _ when refusal.Errors.Count > 0 => string.Join(" ", refusal.Errors.SelectMany(e => e.Value).Distinct()),
            HttpStatusCode.NotFound when refusal.Type is null or "about:blank" => T[
                "This is not in your school's records, or you may not see it."
            ],
            HttpStatusCode.Forbidden when refusal.Type is null or "about:blank" => T["You may not see or change this."],
            >= HttpStatusCode.InternalServerError when refusal.Number is { } number => $"{refusal.Message} {Quote(number)}",
            _ => refusal.Message,
        };

    /// <summary>What to say to whoever looks after the server, so that the lines in its log are found.</summary>
    internal static string Quote(string number) => T["If you report this, quote {0}.", number];

    public void Dispose()
    {
        leaving.Cancel();
        leaving.Dispose();
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    protected virtual void Dispose(bool disposing) { }
}
