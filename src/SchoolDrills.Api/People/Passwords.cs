using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace SchoolDrills.Api.People;

/// <summary>Passwords chosen and compared.</summary>
internal sealed class Passwords(IPasswordHasher<Person> hasher)
{
    /// <summary>Rounds of PBKDF2 with HMAC-SHA-512, as OWASP's cheat sheet on storing passwords has it.</summary>
    public const int HashIterations = 210_000;

    /// <summary>Length is what makes a password hard to guess; rules about characters make it hard to remember.</summary>
    private const int Shortest = 10;

    /// <summary>Compared with where an address or a password is unknown, so that the answer costs as much.</summary>
    private static readonly Person Nobody = new()
    {
        SchoolId = Guid.Empty,
        DisplayName = "",
        Roles = [],
    };

    private static readonly string NobodysHash = new PasswordHasher<Person>(
        Options.Create(new PasswordHasherOptions { IterationCount = HashIterations })
    ).HashPassword(Nobody, Guid.NewGuid().ToString());

    /// <summary>Why a password cannot be chosen, or null.</summary>
    public static string? Problem(string? password) =>
        password is null || password.Length < Shortest ? $"Passwords must be at least {Shortest} characters." : null;

    public void Choose(Person person, Credentials credentials, string password)
    {
        credentials.PasswordHash = hasher.HashPassword(person, password);
        person.HasAccepted = true;
    }

    public bool IsRight(Person person, Credentials credentials, string? password) =>
        hasher.VerifyHashedPassword(person, credentials.PasswordHash ?? NobodysHash, password ?? "") != PasswordVerificationResult.Failed
        && credentials.PasswordHash is not null;

    /// <summary>Takes as long as comparing a password does, and comes to nothing.</summary>
    public void CompareWithNobodys(string password) => hasher.VerifyHashedPassword(Nobody, NobodysHash, password);
}
