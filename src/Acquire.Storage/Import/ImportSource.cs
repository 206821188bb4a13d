using System.Security.Cryptography;

namespace Acquire.Storage.Import;

/// <summary>The file that strips are imported from.</summary>
/// <param name="File">Its name, as the user gave it.</param>
/// <param name="Hash">SHA-256 of its bytes, hexadecimal.</param>
public sealed record ImportSource(string File, string Hash)
{
    /// <summary>Reads a file once through for its hash.</summary>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static async Task<ImportSource> OfAsync(string file, CancellationToken cancellationToken)
    {
        await using var stream = System.IO.File.OpenRead(file);
        return new ImportSource(file, Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancellationToken)));
    }
}
