namespace Acquire.Tests.House.CircleSample.Left
{
    internal class Used
    {
        public Right.User? Back { get; init; }
    }
}

namespace Acquire.Tests.House.CircleSample.Right
{
    internal class User
    {
        public static string Make() => string.Join(',', new List<Left.Used> { new() });
    }
}
