namespace Acquire.Instruments.Captures;

/// <summary>Writes a capture file as the bytes come; every chunk is handed to the system at once. Times run on from the first by the
/// monotonic clock, so a system clock that is set in between tears no line apart. For one task at a time.</summary>
public sealed class CaptureWriter : IDisposable
{
    private readonly TextWriter _writer;
    private readonly TimeProvider _time;
    private readonly DateTimeOffset _begun;
    private readonly long _began;
    private bool _closed;

    /// <param name="writer">Where to; it is disposed with the capture.</param>
    /// <param name="time">Stamps the chunks.</param>
    /// <param name="profile">The device profile in use; null for none.</param>
    /// <param name="settings">The line settings in words.</param>
    public CaptureWriter(TextWriter writer, TimeProvider time, string port, string? profile, string settings)
    {
        (_writer, _time, _begun, _began) = (writer, time, time.GetUtcNow(), time.GetTimestamp());
        WriteLine(CaptureText.FirstLine);
        WriteLine(CaptureText.Comment(CaptureText.PortKey, port));
        WriteLine(CaptureText.Comment(CaptureText.ProfileKey, profile ?? "none"));
        WriteLine(CaptureText.Comment(CaptureText.SettingsKey, settings));
        WriteLine(
            "# A line per chunk received: time, tab, bytes; all but printable ASCII as \\xNN. \\break: the link broke. \\end: closed.");
    }

    // By the monotonic clock: a system clock that is set would make a pause that nobody saw, and pauses may end lines.
    private DateTimeOffset Now => _begun + _time.GetElapsedTime(_began);

    /// <summary>Makes a new file; one that is there is left alone.</summary>
    /// <exception cref="CaptureException">There is such a file, or it cannot be made.</exception>
    public static CaptureWriter Create(string path, TimeProvider time, string port, string? profile, string settings)
    {
        try
        {
            // Readable while it is written, as somebody who looks for a fault looks at once.
            var stream = new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read);
            return new CaptureWriter(new StreamWriter(stream) { NewLine = "\n", AutoFlush = true }, time, port, profile, settings);
        }
        catch (IOException) when (File.Exists(path))
        {
            throw new CaptureException($"{path} is there already and is not overwritten; name another file.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new CaptureException($"{path} cannot be written: {e.Message}", e);
        }
    }

    /// <summary>Writes what came now.</summary>
    /// <exception cref="CaptureException">It cannot be written.</exception>
    public void Write(ReadOnlySpan<byte> chunk)
    {
        if (!chunk.IsEmpty)
        {
            WriteLine(CaptureText.Line(Now, RawLine.Printable(chunk)));
        }
    }

    /// <summary>Notes that the port was opened anew with other line settings, so that nothing before is glued to what comes.</summary>
    /// <param name="settings">The line settings in words.</param>
    /// <exception cref="CaptureException">It cannot be written.</exception>
    public void Settings(string settings)
    {
        Break();
        WriteLine(CaptureText.Comment(CaptureText.SettingsKey, settings));
    }

    /// <exception cref="CaptureException">It cannot be written.</exception>
    public void Break() => WriteLine(CaptureText.Line(Now, CaptureText.Break));

    /// <summary>Notes the end and closes the file.</summary>
    public void Dispose()
    {
        if (_closed)
        {
            return;
        }

        _closed = true;
        using (_writer)
        {
            try
            {
                _writer.WriteLine(CaptureText.Line(Now, CaptureText.End));
            }
            catch (IOException)
            {
                // The end is a convenience; the chunks before it were written or have said that they were not.
            }
        }
    }

    private void WriteLine(string line)
    {
        try
        {
            _writer.WriteLine(line);
        }
        catch (IOException e)
        {
            throw new CaptureException($"The capture cannot be written any more: {e.Message}", e);
        }
    }
}
