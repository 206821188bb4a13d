using System.Security.Cryptography;
using System.Text;

namespace Acquire.Web.Security.Tokens;

/// <summary>What a token lets do.</summary>
public enum TokenRole
{
    /// <summary>Look at everything, change nothing.</summary>
    Read,

    /// <summary>All that the service does.</summary>
    Operate,
}

/// <summary>What is kept of a token that was given out: never the token itself.</summary>
/// <param name="Name">Whose it is; the records name it as who did it.</param>
/// <param name="Hash">SHA-256 of the token, in hexadecimal digits.</param>
/// <param name="Until">From then on it is worth nothing.</param>
/// <param name="RevokedAt">When it was taken back; null while it stands.</param>
public sealed record AccessToken(
    string Name, TokenRole Role, string Hash, DateTimeOffset MadeAt, DateTimeOffset Until, DateTimeOffset? RevokedAt = null)
{
    public bool IsLive(DateTimeOffset now) => RevokedAt is null && now < Until;
}

/// <summary>Secrets that nobody guesses, and what is kept of them.</summary>
public static class RandomSecret
{
    /// <summary>256 random bits as 64 hexadecimal digits.</summary>
    public static string New() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));

    /// <summary>
    /// A plain hash is right here. Slow, salted ones stand against guessing what people choose; nobody guesses 256 random bits, and a slow
    /// one would only give strangers a way to keep the service busy.
    /// </summary>
    public static string Hash(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    /// <summary>Compared in a time that does not tell how much was right.</summary>
    public static bool Same(string one, string other) =>
        CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(one), Encoding.UTF8.GetBytes(other));
}
