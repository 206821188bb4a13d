using System.Text;

namespace Acquire.Instruments.Captures;

/// <summary>Reads what an instrument once sent: a capture file, a text file of lines, or
/// raw bytes. README.md says how they are told apart.</summary>
public static class CaptureReader
{
    private const long LargestFile = 512L * 1024 * 1024;

    private static readonly byte[] ByteOrderMark = [0xEF, 0xBB, 0xBF];

    /// <exception cref="CaptureException">It is not there, cannot be read, is too large, or has a line that is no capture line.</exception>
    public static Capture ReadFile(string path)
    {
        try
        {
            var file = new FileInfo(path);
            return file is { Exists: true, Length: > LargestFile }
                ? throw new CaptureException($"{path} is larger than 512 MiB; cut it into several files.")
                : Read(File.ReadAllBytes(path), path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new CaptureException($"{path} cannot be read: {e.Message}", e);
        }
    }

    /// <param name="content">The bytes of the file.</param>
    /// <param name="name">What to call it in messages.</param>
    /// <exception cref="CaptureException">It is a capture file with a line that is no capture line.</exception>
    public static Capture Read(ReadOnlySpan<byte> content, string name)
    {
        var text = content.StartsWith(ByteOrderMark) ? content[ByteOrderMark.Length..] : content;
        if (text.StartsWith(Encoding.ASCII.GetBytes(CaptureText.FirstLine)))
        {
            return TimedCapture.Parse(Encoding.UTF8.GetString(text), name);
        }

        return IsText(text)
            ? Untimed(CaptureKind.Text, [.. LinesOf(text)])
            : Untimed(CaptureKind.Raw, content.IsEmpty ? [] : [Chunk(content)]);
    }

    private static Capture Untimed(CaptureKind kind, ImmutableArray<CaptureChunk> chunks) => new(kind, null, null, null, chunks, null);

    private static CaptureChunk Chunk(ReadOnlySpan<byte> bytes) => new(DateTimeOffset.UnixEpoch, [.. bytes]);

    /// <summary>Printable ASCII in lines that end as a text file's do, so that nothing
    /// but the line ends was added or changed by an editor.</summary>
    private static bool IsText(ReadOnlySpan<byte> content)
    {
        for (var i = 0; i < content.Length; i++)
        {
            var isText = content[i] switch
            {
                (byte)'\t' or (byte)'\n' => true,
                // A CR alone comes from an instrument and from no editor, so such a file is taken as raw bytes.
                (byte)'\r' => i + 1 < content.Length && content[i + 1] == '\n',
                >= 0x20 and < 0x7F => true,
                _ => false,
            };
            if (!isText)
            {
                return false;
            }
        }

        return true;
    }

    private static List<CaptureChunk> LinesOf(ReadOnlySpan<byte> content)
    {
        List<CaptureChunk> lines = [];
        foreach (var range in content.Split((byte)'\n'))
        {
            var line = content[range].TrimEnd((byte)'\r');
            if (!line.IsEmpty)
            {
                lines.Add(Chunk(line));
            }
        }

        return lines;
    }
}
