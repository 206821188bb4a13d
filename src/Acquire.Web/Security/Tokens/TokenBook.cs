namespace Acquire.Web.Security.Tokens;

/// <summary>Gives out tokens and takes them back; a running service notices within a second.</summary>
/// <param name="folder">The data folder, which is there.</param>
public sealed class TokenBook(string folder, TimeProvider time)
{
    /// <summary>How long a token is good for where nobody says, days.</summary>
    public const int UsualDays = 365;

    private const int MostDays = 3660;
    private const int LongestName = 60;
    private readonly TokenFile _file = new(folder);

    /// <summary>Makes a token. It is given here once and kept nowhere.</summary>
    /// <exception cref="BenchException">The name is no name or has a token that stands, or the days are out of bounds.</exception>
    public async Task<(string Token, AccessToken Kept)> AddAsync(
        string name, TokenRole role, int days, CancellationToken cancellationToken)
    {
        if (string.IsNullOrWhiteSpace(name) || name.Length > LongestName || name.Any(char.IsControl) || name != name.Trim())
        {
            throw new BenchException(
                $"A token's name has 1 to {LongestName} letters, without a blank at its ends; records name it as who did it.");
        }

        if (days is < 1 or > MostDays)
        {
            throw new BenchException($"A token is good for 1 to {MostDays} days, not {days}.");
        }

        var now = time.GetUtcNow();
        var token = RandomSecret.New();
        var kept = new AccessToken(name, role, RandomSecret.Hash(token), now, now.AddDays(days));
        await _file.ChangeAsync(
            tokens => tokens.Any(t => IsCalled(t, name) && t.IsLive(now))
                ? throw new BenchException(
                    $"There is a token named {name}. Choose another name, or revoke it first: acquire token revoke \"{name}\"")
                : [.. tokens.Where(t => !IsCalled(t, name)), kept],
            cancellationToken);
        return (token, kept);
    }

    /// <summary>All tokens, revoked and expired ones too, in the order in which they were added, each with its last use.</summary>
    public ImmutableArray<(AccessToken Token, DateTimeOffset? LastUsed)> List()
    {
        var uses = TokenUseFile.Read(folder);
        return [.. _file.Read().Select(t => (t, uses.TryGetValue(t.Hash, out var at) ? at : (DateTimeOffset?)null))];
    }

    /// <summary>Whether there is a token that opens anything now.</summary>
    public bool HasLive() => _file.Read().Any(t => t.IsLive(time.GetUtcNow()));

    /// <exception cref="BenchException">There is no such token, or it was revoked before.</exception>
    public Task RevokeAsync(string name, CancellationToken cancellationToken) => _file.ChangeAsync(
        tokens => tokens.FirstOrDefault(t => IsCalled(t, name)) switch
        {
            null => throw new BenchException(
                $"There is no token named {name}; there "
                + $"{(tokens.IsEmpty ? "is none." : $"are {string.Join(", ", tokens.Select(t => t.Name))}.")}"),
            { RevokedAt: { } at } => throw new BenchException(
                string.Create(CultureInfo.InvariantCulture, $"The token {name} was revoked before, at {at:yyyy-MM-dd HH:mm} UTC.")),
            var found => tokens.Replace(found, found with { RevokedAt = time.GetUtcNow() }),
        },
        cancellationToken);

    private static bool IsCalled(AccessToken token, string name) => string.Equals(token.Name, name, StringComparison.OrdinalIgnoreCase);
}
