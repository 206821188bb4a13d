using Acquire.Web.Security.Tokens;

namespace Acquire.Rendering.Service;

/// <summary>Tokens for people and for programs; never the tokens themselves.</summary>
internal static class TokenReport
{
    public static void WriteList(
        IAnsiConsole console, ImmutableArray<(AccessToken Token, DateTimeOffset? LastUsed)> rows, TimeProvider time, bool json) =>
        console.WriteList(
            rows,
            json,
            r => new { r.Token.Name, r.Token.Role, r.Token.MadeAt, r.Token.Until, r.Token.RevokedAt, r.LastUsed },
            "No tokens yet. Make one: acquire token add NAME --role read",
            ["name", "may", "made", "good until", "used last"],
            r =>
            [
                r.Token.Name,
                RoleOf(r.Token.Role),
                Numbers.Moment(r.Token.MadeAt, time),
                r.Token.RevokedAt is { } revoked ? $"revoked {Numbers.Moment(revoked, time)}"
                    : Numbers.Moment(r.Token.Until, time) + (r.Token.IsLive(time.GetUtcNow()) ? "" : " expired"),
                r.LastUsed is { } used ? Numbers.Moment(used, time) : "never",
            ]);

    /// <summary>As <c>--role</c> takes it.</summary>
    public static string RoleOf(TokenRole role) => role == TokenRole.Operate ? "operate" : "read";
}
