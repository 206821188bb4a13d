using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Acquire.Storage.Rows;

/// <summary>SHA-256 over the content of a row, and over the chain of seals.</summary>
internal static class RowDigest
{
    public const int Length = SHA256.HashSizeInBytes;

    /// <summary>
    /// The digest of a row, of column names and values in turn. What is null is left out, so that a column that a later version adds,
    /// null in old rows, leaves their digest as it was.
    /// </summary>
    public static byte[] Of(IReadOnlyList<object?> namesAndValues)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        for (var i = 0; i + 1 < namesAndValues.Count; i += 2)
        {
            if (Bytes(namesAndValues[i + 1]) is { } value)
            {
                Append(hash, Encoding.UTF8.GetBytes((string)namesAndValues[i]!));
                Append(hash, value);
            }
        }

        return hash.GetHashAndReset();
    }

    /// <summary>The seal of a row: it holds the seal before it, so that none can be taken out or put in unseen.</summary>
    public static byte[] Seal(byte[]? before, string table, string key, byte[] digest)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Append(hash, before ?? []);
        Append(hash, Encoding.UTF8.GetBytes(table));
        Append(hash, Encoding.UTF8.GetBytes(key));
        Append(hash, digest);
        return hash.GetHashAndReset();
    }

    /// <summary>Numbers by their value: SQLite keeps a whole REAL as an integer, and no negative zero.</summary>
    private static byte[]? Bytes(object? value) => value switch
    {
        null or DBNull => null,
        byte[] bytes => bytes,
        long or double => Number(Convert.ToDouble(value, CultureInfo.InvariantCulture)),
        string text => Encoding.UTF8.GetBytes(text),
        _ => throw new ArgumentException($"A column cannot hold a {value.GetType().Name}.", nameof(value)),
    };

    private static byte[] Number(double value)
    {
        var bytes = new byte[sizeof(double)];
        BinaryPrimitives.WriteDoubleBigEndian(bytes, value + 0.0);
        return bytes;
    }

    private static void Append(IncrementalHash hash, byte[] part)
    {
        var length = new byte[sizeof(int)];
        BinaryPrimitives.WriteInt32BigEndian(length, part.Length);
        hash.AppendData(length);
        hash.AppendData(part);
    }
}
