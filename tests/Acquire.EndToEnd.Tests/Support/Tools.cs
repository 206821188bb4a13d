namespace Acquire.EndToEnd.Tests.Support;

/// <summary>Programs from outside that some tests need; <c>tools/check</c> installs them where it may.</summary>
internal static class Tools
{
    /// <summary>Skips the test on a machine that cannot have these programs.</summary>
    public static void Require(params IEnumerable<string> programs)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Pseudo-terminals of this kind exist on Unix only.");
        foreach (var program in programs)
        {
            Assert.SkipUnless(Find(program), $"{program} is not installed.");
        }
    }

    private static bool Find(string program) => (Environment.GetEnvironmentVariable("PATH") ?? "")
        .Split(Path.PathSeparator)
        .Any(folder => File.Exists(Path.Combine(folder, program)));
}
