"""The product's own claims and its speed, measured: nothing here is promised that is not printed with its goal.

python -m benchmarks            everything, some minutes on two cores
python -m benchmarks --quick    the same tables from few heads, to see that they run
"""
